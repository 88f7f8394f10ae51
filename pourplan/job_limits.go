package pourplan

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// limitProbe finds the limits of keys by asking the reader: it reads jobs in
// which one key is far too small or far too large, and takes what the error
// says. So the limits that are told are those that hold.
type limitProbe struct {
	bases []string // jobs that read well and differ in what limits can depend on
}

// newLimitProbe has two jobs: a limit that is not the same in both depends on
// other keys, and is for the key's meaning to tell.
func newLimitProbe() *limitProbe {
	job := func(wire, mouth, diameter float64, pot, metal, rubber string) string {
		return fmt.Sprintf(`
[head]
file = "head.stl"
eye = [0, 0, 0]
[hook]
wire = %g
eye_inside = 2
leg = 20
shank = 40
gape = 20
point = 8
[metal]
preset = %q
[rubber]
preset = %q
[keys]
diameter = %g
depth = 1
[sprue]
mouth = %g
throat = 4
[casting]
pot = %q
[runner]
[[keeper]]
wire = 0.9
points = [[4, 2, 0], [13, 2, 0]]
[[kit]]
mass = "1 kg"
price = 40
[plastic]
name = "PLA"
[evening]
start = "18:30"
`, wire, metal, rubber, diameter, mouth, pot)
	}
	return &limitProbe{bases: []string{
		job(1, 12, 6, "1 kg", "tin", "tin-cure 100:5"),
		job(1.5, 20, 8, "2 kg", "lead", "tin-cure 100:3"),
	}}
}

// of tells the limits of a key: "0.2 to 6 mm", "at least 1"; "" for none.
func (p *limitProbe) of(name string, kind kindOfKey) string {
	if kind.low == "" || strings.HasPrefix(name, "cavity.") || strings.HasPrefix(name, "size.") {
		return ""
	}
	least, unit := p.bound(name, kind.low)
	most, unitMost := p.bound(name, kind.high)
	if unit == "" {
		unit = unitMost
	}
	if unit = strings.TrimSpace(unit); kind.unit != "" || unit == "" {
		unit = kind.unit
	}
	if least == "" && p.takes(name, kind.zero()) && !p.takes(name, kind.written("-1")) {
		least = "0"
	}
	if len(most) > 6 && unit != "s" {
		most = "" // it only keeps slips of the hand out
	}
	if unit == "s" {
		least, most, unit = asDuration(least), asDuration(most), ""
	}
	switch {
	case least != "" && most != "":
		return strings.TrimSpace(least + " to " + most + " " + unit)
	case least != "" && least != "0":
		return strings.TrimSpace("at least " + least + " " + unit)
	case most != "":
		return strings.TrimSpace("at most " + most + " " + unit)
	}
	return ""
}

// takes reports whether a job may have a value, in all bases.
func (p *limitProbe) takes(name, value string) bool {
	for _, base := range p.bases {
		text, _ := withKey(base, name, value)
		if _, err := ReadJob("job.toml", []byte(text)); err != nil {
			return false
		}
	}
	return true
}

func asDuration(seconds string) string {
	s, err := strconv.ParseFloat(seconds, 64)
	if err != nil {
		return ""
	}
	return FormatDuration(s)
}

var limitWords = regexp.MustCompile(`must be (?:at least|at most) (-?[0-9.e+]+)([^,]*), got`)

// bound is the limit that a value meets in all bases, with its unit.
func (p *limitProbe) bound(name, value string) (limit, unit string) {
	for i, base := range p.bases {
		text, at := withKey(base, name, value)
		_, err := ReadJob("job.toml", []byte(text))
		found := limitIn(err, at)
		if found == nil || i > 0 && found[1] != limit {
			return "", ""
		}
		limit, unit = found[1], found[2]
	}
	if x, err := strconv.ParseFloat(limit, 64); err == nil {
		limit = strconv.FormatFloat(x, 'f', -1, 64)
	}
	return limit, unit
}

// limitIn finds what an error says of the limit of the key at a line.
func limitIn(err error, line int) []string {
	var list JobErrors
	if !errors.As(err, &list) {
		return nil
	}
	for _, e := range list {
		if m := limitWords.FindStringSubmatch(e.Err.Error()); m != nil && e.Line == line {
			return m
		}
	}
	return nil
}

// withKey sets a key in a job's text, and returns the line it stands in.
func withKey(job, name, value string) (string, int) {
	table, key, _ := strings.Cut(name, ".")
	line := key + " = " + value
	lines := strings.Split(job, "\n")
	if key == "" {
		return name + " = " + value + job, 1
	}
	for i, l := range lines {
		if l != "["+table+"]" && l != "[["+table+"]]" {
			continue
		}
		for k := i + 1; k < len(lines) && !strings.HasPrefix(lines[k], "["); k++ {
			if strings.HasPrefix(lines[k], key+" = ") {
				lines[k] = line
				return strings.Join(lines, "\n"), k + 1
			}
		}
		lines[i] += "\n" + line
		return strings.Join(lines, "\n"), i + 2
	}
	return job + "[" + table + "]\n" + line + "\n", len(lines) + 1
}
