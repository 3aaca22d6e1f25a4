package preflight

import "github.com/pdfcpu/pdfcpu/pkg/pdfcpu/types"

// colour follows the operators of colour (ISO 32000-1, 8.6.8); it reports
// whether op was one.
func (r *running) colour(op string) bool {
	switch op {
	case "g":
		r.s.fill = r.named("DeviceGray")
	case "G":
		r.s.stroke = r.named("DeviceGray")
	case "rg":
		r.s.fill = r.named("DeviceRGB")
	case "RG":
		r.s.stroke = r.named("DeviceRGB")
	case "k":
		r.s.fill = r.named("DeviceCMYK")
	case "K":
		r.s.stroke = r.named("DeviceCMYK")
	case "cs":
		r.s.fill = r.named(r.word)
	case "CS":
		r.s.stroke = r.named(r.word)
	case "sc", "scn":
		r.pattern(&r.s.fill)
	case "SC", "SCN":
		r.pattern(&r.s.stroke)
	default:
		return false
	}
	return true
}

// named is a colour space by its name in the content: a device's, which the
// resources may put another in place of (8.6.5.6), or one of the resources.
func (r *running) named(name string) colours {
	instead := map[string]string{"DeviceGray": "DefaultGray", "G": "DefaultGray", "DeviceRGB": "DefaultRGB", "RGB": "DefaultRGB",
		"DeviceCMYK": "DefaultCMYK", "CMYK": "DefaultCMYK"}[name]
	if instead != "" {
		if o := r.entry("ColorSpace", instead); o != nil {
			return r.space(o, 1)
		}
		return device(name)
	}
	if o := r.entry("ColorSpace", name); o != nil {
		return r.space(o, 0)
	}
	return device(name)
}

func device(name string) colours {
	switch name {
	case "DeviceGray", "G":
		return colours{{Family: Grey}}
	case "DeviceRGB", "RGB":
		return colours{{Family: RGB}}
	case "DeviceCMYK", "CMYK":
		return colours{{Family: CMYK}}
	case "CalGray":
		return colours{{Family: Grey, Profile: true}}
	case "CalRGB":
		return colours{{Family: RGB, Profile: true}}
	}
	return nil // a pattern says its own, a name nobody knows says nothing
}

// space reads a colour space (8.6.3); depth keeps one from naming itself.
func (r *running) space(o types.Object, depth int) colours {
	if depth > 6 {
		return nil
	}
	if n := r.name(o); n != "" {
		if depth > 0 {
			return device(n)
		}
		return r.named(n)
	}
	a := r.array(o)
	if len(a) == 0 {
		return nil
	}
	var second types.Object
	if len(a) > 1 {
		second = a[1]
	}
	switch kind := r.name(a[0]); kind {
	case "ICCBased":
		if s := r.stream(second); s != nil {
			family := map[int]Family{1: Grey, 3: RGB, 4: CMYK}[int(r.num(s.Dict["N"], 0))]
			if family == "" {
				family = Other
			}
			return colours{{Family: family, Profile: true}}
		}
	case "Lab":
		return colours{{Family: Lab, Profile: true}}
	case "Indexed", "I", "Pattern":
		return r.space(second, depth+1)
	case "Separation":
		return r.inks(types.Array{second})
	case "DeviceN":
		return r.inks(r.array(second))
	default:
		return device(kind)
	}
	return nil
}

// inks are the colourants of a Separation or DeviceN space (8.6.6). Those of the
// process are no spot colours.
func (r *running) inks(names types.Array) colours {
	var list colours
	for _, o := range names[:min(len(names), 32)] {
		switch name := r.name(o); name {
		case "None", "", "All": // All is for registration marks
		case "Cyan", "Magenta", "Yellow", "Black":
			list = append(list, Colour{Family: CMYK})
		default:
			list = append(list, Colour{Family: Spot, Name: name})
		}
	}
	return list
}

// pattern takes the colours of a pattern for a paint, when one is named.
func (r *running) pattern(paint *colours) {
	if r.word == "" {
		return
	}
	o := r.entry("Pattern", r.word)
	d := r.dict(o)
	if r.num(d["PatternType"], 0) == 2 {
		*paint = r.space(r.dict(d["Shading"])["ColorSpace"], 0)
		return
	}
	if s := r.stream(o); s != nil {
		*paint = nil // the tile says its own; where it lies is another matter
		r.plain = false
		r.form(s)
	}
}

// shade paints a shading.
func (r *running) shade() {
	r.ink(r.space(r.dict(r.entry("Shading", r.word))["ColorSpace"], 0))
}
