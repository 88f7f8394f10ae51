package pourplan

import (
	"strings"
	"testing"
	"unicode/utf8"
)

// obeyed are the characters that a terminal or an editor obeys: all of C0, DEL
// and C1, line ends, and marks of direction (Unicode 15, table 23-3 and section
// 23.2, from memory).
func obeyed() (list []rune) {
	for r := rune(0); r < 0xa0; r++ {
		if r < ' ' || r >= 0x7f {
			list = append(list, r)
		}
	}
	return append(list, []rune("\u061c\u200e\u200f\u2028\u2029\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff\U000e0001")...)
}

func TestVisible(t *testing.T) {
	for _, r := range obeyed() {
		text := "a" + string(r) + "b"
		got := Visible(text)
		if !Unseen(r) || strings.ContainsRune(got, r) || utf8.RuneCountInString(got) != 3 || Visible(got) != got {
			t.Errorf("%U became %q", r, got)
		}
	}
	for text, want := range map[string]string{
		"Größe 3/8 oz, 名前, \u200dא": "Größe 3/8 oz, 名前, \u200dא",
		"\x1b[31mred":               "␛[31mred",
		"two\r\nlines":              "two␍␊lines",
		"\x9b2J":                    "\ufffd2J", // a byte of no UTF-8, which old terminals take for ESC [
	} {
		if got := Visible(text); got != want {
			t.Errorf("%q: got %q, want %q", text, got, want)
		}
	}
}

// Nothing in a buying list is obeyed, wherever it stands.
func TestBuyingListIsVisible(t *testing.T) {
	evil := string(obeyed())
	list := &RunList{Title: evil, Rubber: RunRubber{Name: evil, Ratio: evil, Kits: &BuyingPlan{Kits: []KitPlan{{Name: evil, Count: 1}}}},
		Molds: []RunMold{{Name: evil, Halves: []RunHalf{{Half: evil}}}}, Metal: RunMetal{Name: evil}, Hooks: []RunWire{{Name: evil}}, Keepers: []RunWire{{Name: evil}}}
	text := list.Text()
	for line := range strings.SplitSeq(text, "\n") {
		for _, r := range line {
			if Unseen(r) {
				t.Errorf("%U in %q", r, line)
			}
		}
	}
	plain := &RunList{Title: "a", Rubber: RunRubber{Name: "a", Ratio: "a", Kits: &BuyingPlan{Kits: []KitPlan{{Name: "a", Count: 1}}}},
		Molds: []RunMold{{Name: "a", Halves: []RunHalf{{Half: "a"}}}}, Metal: RunMetal{Name: "a"}, Hooks: []RunWire{{Name: "a"}}, Keepers: []RunWire{{Name: "a"}}}
	if got, want := strings.Count(text, "\n"), strings.Count(plain.Text(), "\n"); got != want {
		t.Errorf("%d lines, want %d", got, want)
	}
}
