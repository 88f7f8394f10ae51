package pourplan

import (
	"fmt"
	"strings"
)

// CoatPlan is what all coats together do to a head.
type CoatPlan struct {
	ThicknessMM  float64    `json:"thickness_mm"`             // of all coats
	DensityGCM3  float64    `json:"density_g_cm3"`            // of them on average, dry
	BakeC        float64    `json:"bake_c"`                   // of the hottest oven; 0: none
	Coats        []CoatStep `json:"coats"`                    // in the order of work
	AddsG        float64    `json:"adds_g"`                   // their mass, over all of the head's skin
	CoatedG      Range      `json:"coated_g"`                 // the finished head with them; a coat by hand is off by a third
	TargetG      float64    `json:"target_for_g,omitempty"`   // to ask for, if the coated head is to weigh what the job asks for; left out unless the job asks for a finished weight
	HookEyeMM    float64    `json:"hook_eye_mm,omitempty"`    // left of the eye's opening where the coats get into it; left out without a hook
	SocketMM     float64    `json:"socket_mm,omitempty"`      // left of the eye socket; left out when the job has none
	SocketPlayMM float64    `json:"socket_play_mm,omitempty"` // that, less the eye to be glued in; below 0 it does not go in
	StickEyeFits bool       `json:"stick_eye_fits,omitempty"` // it goes in
}

// CoatStep is the coats of one kind.
type CoatStep struct {
	Kind        string  `json:"kind"`                 // powder, paint, clear or other
	Count       int     `json:"count"`                // of coats, one on the other
	EachMM      float64 `json:"each_mm"`              // thickness of one
	DensityGCM3 float64 `json:"density_g_cm3"`        // dry
	BakeC       float64 `json:"bake_c,omitempty"`     // of the oven; left out without one
	BakeS       float64 `json:"bake_s,omitempty"`     // in it, once the heads are hot
	AfterEyes   bool    `json:"after_eyes,omitempty"` // goes on when the eyes are glued in
	AddsG       float64 `json:"adds_g"`               // all of them
	CoatedG     Range   `json:"coated_g"`             // the head after them
}

// Text names the coats of a step: "2 coats of clear, 0.1 mm each".
func (c CoatStep) Text() string {
	what := fmt.Sprintf("%s, %s mm", c.Kind, FormatNumber(c.EachMM, 3))
	if c.Kind == "other" {
		what = fmt.Sprintf("coat, %s mm", FormatNumber(c.EachMM, 3))
	}
	if c.Count > 1 {
		return fmt.Sprintf("%d coats of %s each", c.Count, what)
	}
	return what
}

// FormatCoat describes a head's coats in one line, "" without any.
func FormatCoat(c *CoatPlan) string {
	if c == nil {
		return ""
	}
	var steps []string
	for _, s := range c.Coats {
		steps = append(steps, fmt.Sprintf("%s: +%.2f g, %s", s.Text(), s.AddsG, FormatMass(s.CoatedG.Best)))
	}
	text := fmt.Sprintf("%s (%.2f to %.2f g)", strings.Join(steps, "; "), c.CoatedG.Low, c.CoatedG.High)
	if c.TargetG > 0 {
		text += fmt.Sprintf("; to weigh %s with it, set weight.target to %s g", FormatMass(c.TargetG+c.AddsG), FormatNumber(c.TargetG, 2))
	}
	if c.HookEyeMM > 0 {
		text += fmt.Sprintf("; mask the hook's eye: coated it keeps %s mm", FormatNumber(c.HookEyeMM, 2))
	}
	switch {
	case c.SocketMM == 0:
	case c.StickEyeFits:
		text += fmt.Sprintf("; the eye socket keeps %s mm, %s mm of play", FormatNumber(c.SocketMM, 2), FormatNumber(c.SocketPlayMM, 2))
	default:
		text += fmt.Sprintf("; the eye socket keeps %s mm, %s mm too little: draw it wider", FormatNumber(c.SocketMM, 2), FormatNumber(-c.SocketPlayMM, 2))
	}
	return text
}
