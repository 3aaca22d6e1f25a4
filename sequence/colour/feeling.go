package colour

import "math"

// WarmCool is the warm–cool index of Ou, Luo, Woodcock and Wright, "A study of
// colour emotion and colour preference, part I", Color Res. Appl. 29(3):232–240,
// 2004: −0.5 + 0.02·C*^1.07·cos(h − 50°). Positive is warm (sRGB red 2.35),
// negative cool (sRGB cyan −1.60); a grey is −0.5.
func WarmCool(c Lab) float64 {
	return -0.5 + 0.02*math.Pow(c.Chroma(), 1.07)*math.Cos((c.Hue()-50)*degree)
}
