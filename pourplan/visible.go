package pourplan

import (
	"strings"
	"unicode"
)

// Visible returns a text with a sign in the place of each character that a
// terminal or an editor would obey instead of showing: control characters, line
// ends, tabs, and marks that turn the direction of writing. Names come from files
// that others may have written. The text keeps its number of characters; what is
// visible already stays as it is. Invalid UTF-8 becomes U+FFFD.
func Visible(text string) string {
	return strings.Map(func(r rune) rune {
		const pictures, deleted = '\u2400', '\u2421' // Unicode's pictures of control characters
		switch {
		case r < ' ':
			return pictures + r
		case r == 0x7f:
			return deleted
		case Unseen(r):
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// Unseen reports whether a character is one of those that Visible replaces. The
// joiners stay, which some scripts need and which do no more than join.
func Unseen(r rune) bool {
	const nonJoiner, joiner = '\u200c', '\u200d'
	return unicode.In(r, unicode.Cc, unicode.Zl, unicode.Zp) || unicode.Is(unicode.Cf, r) && r != nonJoiner && r != joiner
}
