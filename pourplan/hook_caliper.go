package pourplan

import (
	"math"
	"reflect"

	"halfpour/moldbox"
)

// OverTable is a hook's measures as a caliper takes them, from outside to outside;
// nil for one that is not given.
type OverTable struct {
	Eye    *MM // diameter of the eye's ring
	Leg    *MM // from the underside of the shank to the top of the eye
	Length *MM // along the shank, eye and bend included
	Gape   *MM // from the underside of the shank to the top of the point
	Point  *MM // along the shank, from the tip to the outside of the bend
}

func (t *OverTable) rows() []key {
	return []key{
		{"over_eye", &t.Eye, nil, above(0, 40), "by caliper, outside to outside: diameter of the eye's ring; replaces eye_inside", ""},
		{"over_leg", &t.Leg, nil, above(0, 250), "by caliper: from the underside of the shank to the top of the eye; replaces leg", ""},
		{"over_length", &t.Length, nil, above(0, 400), "by caliper: along the shank, with eye and bend; replaces shank", ""},
		{"over_gape", &t.Gape, nil, above(0, 250), "by caliper: from the underside of the shank to the top of the point; replaces gape", ""},
		{"over_point", &t.Point, nil, above(0, 250), "by caliper: along the shank, from the tip to the outside of the bend; replaces point", ""},
	}
}

// calipered is a measure by caliper and the dimension that comes of it.
type calipered struct {
	over, key string
	by        *MM
	to        func(*moldbox.Hook) *float64
	from      func(over float64, h moldbox.Hook) float64
}

// calipered lists them in the order in which each can be worked out from those before.
func (t OverTable) calipered() []calipered {
	return []calipered{
		{"over_eye", "eye_inside", t.Eye, func(h *moldbox.Hook) *float64 { return &h.EyeInside },
			func(over float64, h moldbox.Hook) float64 { return over - 2*h.Wire }},
		{"over_gape", "gape", t.Gape, func(h *moldbox.Hook) *float64 { return &h.Gape },
			func(over float64, h moldbox.Hook) float64 { return over - h.Wire }},
		{"over_leg", "leg", t.Leg, func(h *moldbox.Hook) *float64 { return &h.Leg },
			func(over float64, h moldbox.Hook) float64 {
				return (over - h.Wire/2 - h.EyeTop()) / math.Sin(h.LegAngle)
			}},
		{"over_length", "shank", t.Length, func(h *moldbox.Hook) *float64 { return &h.Shank }, shankOf},
		{"over_point", "point", t.Point, func(h *moldbox.Hook) *float64 { return &h.Point },
			func(over float64, h moldbox.Hook) float64 { return over - h.Gape/2 - h.Wire/2 }},
	}
}

// shankOf is the shank with which a hook is so long over all: the rest of it is as long
// for any shank that leaves room for the corner.
func shankOf(over float64, h moldbox.Hook) float64 {
	const long = 150
	h.Shank, h.Point = long, 0
	return over - (h.Outside() - long)
}

// wire is the hook with what the caliper says in its dimensions.
func (h *HookTable) wire() moldbox.Hook {
	w := h.Hook
	for _, c := range h.Over.calipered() {
		if c.by != nil {
			*c.to(&w) = c.from(float64(*c.by), w)
		}
	}
	return w
}

// checkCaliper asks for one of two measures of the same, and for what the wire leaves of
// each.
func (h *HookTable) checkCaliper(f *faults, at func(key string) string) {
	w := h.Hook
	for _, c := range h.Over.calipered() {
		switch {
		case c.by == nil:
			continue
		case h.File != "" || len(h.Points) > 0:
			f.refuse(at("hook."+c.over), RuleConflict, "remove one of them", "cannot be used with hook.%s", map[bool]string{true: "file", false: "points"}[h.File != ""])
			return
		case *c.to(&w) != 0:
			f.refuse(at("hook."+c.over), RuleConflict, "remove one of them", "cannot be used with hook.%s: both say the same", c.key)
			return
		case h.Hook.Wire == 0:
			return // asked for elsewhere
		}
		x := c.from(float64(*c.by), w)
		if _, _, err := keyNamed(h, c.key).within(reflect.ValueOf(MM(x))); err != nil || !(x > 0) {
			f.refuse(at("hook."+c.over), RuleValue, "measure over the outside, the wire's thickness included: halfpour explain hook shows how",
				"leaves %.3g mm for hook.%s, which is out of its limits", x, c.key)
			return
		}
		*c.to(&w) = x
	}
}
