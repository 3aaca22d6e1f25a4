// Package place knows where and when: positions on the WGS84 ellipsoid, the
// shortest way between them, and times that are no more precise than whoever
// stated them.
//
// In come degrees, wall-clock readings and the date strings that files carry;
// out go metres, azimuths, gaps with their uncertainty, and the plain words a
// photographer would use for them. Every position and time carries its Source,
// because a scanner's date is the date of scanning and must never pass for the
// day of the picture.
//
// The package never knows a photo, a file, a store or the present moment: now
// is handed in. It imports no other package of this project.
package place
