// Package route puts points in an order in which each follows the one before as
// cheaply as can be.
//
// In come a number of points, the cost of the step between each two, and, where
// they are fixed, the first and the last. Out comes the order. The step costs
// the same in both directions.
//
// It must never know what the points stand for.
package route
