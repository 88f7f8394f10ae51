package pourplan

import "fmt"

// CoatPlan is what a powder coat does to a head.
type CoatPlan struct {
	ThicknessMM  float64 `json:"thickness_mm"`             // of the coat
	DensityGCM3  float64 `json:"density_g_cm3"`            // of it, baked
	BakeC        float64 `json:"bake_c"`                   // of the oven
	AddsG        float64 `json:"adds_g"`                   // its mass, over all of the head's skin
	CoatedG      Range   `json:"coated_g"`                 // the finished head with it
	HookEyeMM    float64 `json:"hook_eye_mm,omitempty"`    // left of the eye's opening where the coat gets into it; left out without a hook
	SocketMM     float64 `json:"socket_mm,omitempty"`      // left of the eye socket; left out when the job has none
	SocketPlayMM float64 `json:"socket_play_mm,omitempty"` // that, less the eye to be glued in; below 0 it does not go in
	StickEyeFits bool    `json:"stick_eye_fits,omitempty"` // it goes in
}

// FormatCoat describes a head's powder coat in one line, "" without one.
func FormatCoat(c *CoatPlan) string {
	if c == nil {
		return ""
	}
	text := fmt.Sprintf("powder coat of %s mm adds %.2f g: %s", FormatNumber(c.ThicknessMM, 3), c.AddsG, FormatMass(c.CoatedG.Best))
	if c.HookEyeMM > 0 {
		text += fmt.Sprintf("; a coated hook's eye keeps %s mm", FormatNumber(c.HookEyeMM, 2))
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
