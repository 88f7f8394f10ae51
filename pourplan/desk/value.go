package desk

import (
	"regexp"
	"strconv"
	"strings"

	"github.com/BurntSushi/toml"

	"halfpour/pourplan"
)

// number is one as people type it, with a point or a comma for decimals.
var number = regexp.MustCompile(`^[+-]?(\d+([.,]\d*)?|[.,]\d+)$`)

// toTOML is what a person typed into a field, as TOML. Numbers stay numbers,
// lists stay as typed but for brackets that were left out, all else becomes a
// text in quotes.
func toTOML(k pourplan.KeyDoc, typed string) string {
	typed = strings.TrimSpace(typed)
	switch {
	case typed == "":
		return `""`
	case k.Kind == "true or false":
		return typed
	case strings.HasPrefix(typed, "[") || strings.HasPrefix(typed, "{"):
		return typed
	case strings.HasPrefix(k.Kind, "["):
		return "[" + typed + "]"
	case strings.HasPrefix(k.Kind, "list of ["):
		return "[" + typed + "]"
	case strings.HasPrefix(k.Kind, "{"):
		return "{" + typed + "}"
	case strings.HasPrefix(k.Kind, "list of"):
		var items []string
		for _, item := range strings.Split(typed, ",") {
			items = append(items, quoted(strings.TrimSpace(item)))
		}
		return "[" + strings.Join(items, ", ") + "]"
	case k.Kind != "text" && number.MatchString(typed):
		return plain(typed)
	}
	return quoted(typed)
}

// plain writes a number as TOML wants it: digits on both sides of a point, no
// zeros before.
func plain(typed string) string {
	sign := ""
	if typed[0] == '-' {
		sign = "-"
	}
	whole, part, _ := strings.Cut(strings.Replace(strings.TrimLeft(typed, "+-"), ",", ".", 1), ".")
	whole = strings.TrimLeft(whole, "0")
	if whole == "" {
		whole = "0"
	}
	if part != "" {
		part = "." + part
	}
	return sign + whole + part
}

// quoted is a text in quotes. Marks that TOML does not take are left out.
func quoted(s string) string {
	s = strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7f {
			return -1
		}
		return c
	}, strings.ToValidUTF8(s, ""))
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(s) + `"`
}

// shown is a value of a job as its field shows it: a text without its quotes,
// lists and tables as they are written, on one line.
func shown(text string) string {
	var v struct{ V any }
	if _, err := toml.Decode("V = "+text, &v); err != nil {
		return text
	}
	switch x := v.V.(type) {
	case string:
		return x
	case bool:
		return strconv.FormatBool(x)
	}
	return strings.Join(strings.Fields(text), " ")
}
