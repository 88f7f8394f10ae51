package pourplan

import "fmt"

// batches says whether both halves are poured out of one mix.
type batches struct {
	one    bool
	reason string
}

// decide advises one mix where pot life and cup allow it. cup is the largest
// at hand, needs what one mix for both takes, ml; a cup of 0 is any.
func (b bench) decide(cup, needs float64) batches {
	switch takes := b.oneMix(); {
	case takes > b.potLife:
		return batches{reason: fmt.Sprintf("one mix would take %s, the pot life is %s", FormatDuration(takes), FormatPotLife(b.potLife))}
	case cup > 0 && needs > cup:
		return batches{reason: fmt.Sprintf("one mix needs a cup of %.0f ml, the largest holds %.0f ml", needs, cup)}
	default:
		return batches{one: true, reason: fmt.Sprintf("it takes %s of the pot life of %s", FormatDuration(takes), FormatPotLife(b.potLife))}
	}
}
