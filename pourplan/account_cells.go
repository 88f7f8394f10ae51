package pourplan

import "strings"

// A spreadsheet runs a cell that begins with one of formulaStarts. Text that
// does is written behind an apostrophe, which is taken off again on reading.
const formulaStarts = "=+-@"

// startsFormula reports whether text begins like a formula, apostrophes before
// it left out.
func startsFormula(text string) bool {
	text = strings.TrimLeft(text, "'")
	return text != "" && strings.ContainsRune(formulaStarts, rune(text[0]))
}

// toCell is a text as it stands in the file.
func toCell(text string) string {
	if startsFormula(text) {
		return "'" + text
	}
	return text
}

// fromCell is the text of a cell.
func fromCell(cell string) string {
	if text, ok := strings.CutPrefix(cell, "'"); ok && startsFormula(text) {
		return text
	}
	return cell
}
