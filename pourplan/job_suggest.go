package pourplan

// Nearest returns the name that takes the fewest edits to reach from got, or
// "" when none is near: within two edits for short words, a third of the
// letters for long ones, and always with a letter left as it was. The first of
// equals wins.
func Nearest(got string, names []string) string {
	if len(got) > 64 {
		return ""
	}
	letters := len([]rune(got))
	best, least := "", min(max(2, letters/3)+1, letters)
	for _, name := range names {
		if d := editDistance(got, name); d < least {
			best, least = name, d
		}
	}
	return best
}

// editDistance counts insertions, deletions, substitutions and swaps of
// neighbours (optimal string alignment; Damerau 1964, Levenshtein 1966).
func editDistance(a, b string) int {
	s, t := []rune(a), []rune(b)
	d := make([][]int, len(s)+1)
	for i := range d {
		d[i] = make([]int, len(t)+1)
		d[i][0] = i
	}
	for k := range d[0] {
		d[0][k] = k
	}
	for i := 1; i <= len(s); i++ {
		for k := 1; k <= len(t); k++ {
			change := 1
			if s[i-1] == t[k-1] {
				change = 0
			}
			d[i][k] = min(d[i-1][k]+1, d[i][k-1]+1, d[i-1][k-1]+change)
			if i > 1 && k > 1 && s[i-1] == t[k-2] && s[i-2] == t[k-1] {
				d[i][k] = min(d[i][k], d[i-2][k-2]+1)
			}
		}
	}
	return d[len(s)][len(t)]
}
