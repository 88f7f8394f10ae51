package pourplan

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"halfpour/geom"
	"halfpour/moldbox"
	"halfpour/moldbox/placing"
)

// NewJob is what a job for a head is begun with.
type NewJob struct {
	Title    string
	File     string // of the head, as the job is to name it
	Target   string // weight of a head, as typed; "" for the head as modelled
	Cavities int
	Head     *placing.Proposal
	Hook     bool // the head's file holds the hook too
}

// ProposedKey is a key of the new job that was read off the head's mesh.
type ProposedKey struct {
	Key   string `json:"key"`   // with its table: head.eye
	Value string `json:"value"` // as the job has it
	Trust string `json:"trust"` // sure, likely or not sure
	Why   string `json:"why"`   // for a person
}

// MetalFor is how much metal a finished head of a weight holds, mm³, to begin
// with: without its hook, of the metal of a job.
func (j *Job) MetalFor(target string) (float64, error) {
	g, err := massDim.read(target)
	if err != nil {
		return 0, err
	}
	metal, err := j.Metal.resolve()
	if err != nil {
		return 0, err
	}
	return g / metal.Density.Best * 1000, nil
}

// Keys are what was proposed, in the order of the job.
func (n NewJob) Keys() []ProposedKey {
	p := n.Head
	left := p.Pose.Left()
	row := func(key, value string, r placing.Reason) ProposedKey {
		return ProposedKey{key, value, string(r.Trust), r.Why}
	}
	parting := p.PlaneWhy
	if depth := p.Undercut; depth > 0.05 && !p.Bored() {
		parting.Why += fmt.Sprintf("; undercut there %.1f mm", depth)
		if p.LeastUndercut < depth-0.1 {
			parting.Why += fmt.Sprintf(", least %.1f mm at %s", p.LeastUndercut, n.length(p.LeastAt))
		}
	}
	nose, back := Direction(p.Pose.Nose).String(), Direction(p.Pose.Back).String()
	keys := []ProposedKey{
		row("head.unit", strconv.Quote(p.Unit), p.UnitWhy),
		row("head.nose", nose, p.NoseWhy),
		row("head.back", back, p.BackWhy),
		row("head.parting", n.length(p.Pose.Parting), parting),
	}
	if !n.Hook { // whose own eye is where it is
		keys = append(keys, row("head.eye", n.point(p.Eyes[0].At), p.Eyes[0].Reason))
	}
	if text := moldbox.DirectionText(left); !strings.HasPrefix(text, "[") {
		keys[3].Why = fmt.Sprintf("the plane %s = %s: %s", text[1:], keys[3].Value, keys[3].Why)
	}
	if p.Shank != nil {
		keys = append(keys, row("weight.anchor", `"shank"`, placing.Reason{Trust: placing.Sure,
			Why: "keeps the shank in the middle of collar or bore, whatever the head is scaled to; or \"eye\", \"collar\""}))
	}
	return keys
}

func (n NewJob) length(mm float64) string { return FileLength(mm, placing.UnitMM(n.Head.Unit)) }

func (n NewJob) point(v geom.Vec) string { return FilePoint(v, placing.UnitMM(n.Head.Unit)) }

// FileLength writes a length in mm as a bare number of a file, of which a unit is so
// many mm: rounded to what one reads off in CAD, 0.01 mm or finer.
func FileLength(mm, unit float64) string {
	step := placing.Step(unit)
	digits := max(0, int(math.Round(-math.Log10(step))))
	text := strconv.FormatFloat(math.Round(mm/unit/step)*step+0, 'f', digits, 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}

// FilePoint writes a place in mm as a file's coordinates.
func FilePoint(v geom.Vec, unit float64) string {
	return "[" + FileLength(v.X, unit) + ", " + FileLength(v.Y, unit) + ", " + FileLength(v.Z, unit) + "]"
}

// Text returns the job: the starter with what was proposed in it, each with how
// sure it is. The starter has one key a line, and lines of dashes between its
// parts.
func (n NewJob) Text(starter []byte) []byte {
	s := starterText{strings.Split(string(starter), "\n")}
	s.lines[0] = "# A mold for " + n.File + ", as halfpour proposes it:"
	for i, line := range s.lines {
		if before, ok := strings.CutSuffix(line, "The head and every figure here are invented demo data."); ok {
			s.lines[i] = before + "But for the head, all figures here are demo data."
		}
	}
	s.set("", "title", strconv.Quote(n.Title), "on the sheet and on the mold")
	s.set("", "turn", `"auto"`, `of the head in the parting plane: where the least air stays, then the least rubber goes; or degrees, 0 with the back up, -90 the nose`)
	s.set("", "cavities", strconv.Itoa(n.Cavities), "how many alike, in a row")
	s.head(n)
	p := n.Head
	if n.Hook {
		for _, key := range []string{"name", "wire", "eye_inside", "leg", "leg_angle", "shank", "gape", "point", "points", "bend"} {
			s.set("hook", key, "", "")
		}
		s.add("hook", "file = "+strconv.Quote(n.File), "the hook in the head's own file")
	}
	s.set("hook", "leg", trimmed(n.Leg()), "from the eye's middle to the middle of the shank; with another leg, move head.eye along by as much; 0: straight hook")
	if p.Shank != nil && p.Shank.LegAngle > 0 && !n.Hook {
		s.set("hook", "leg_angle", trimmed(math.Round(p.Shank.LegAngle*180/math.Pi)), "between leg and shank, as the bores are")
	}
	if n.Target != "" {
		s.set("weight", "target", strconv.Quote(n.Target), fmt.Sprintf("about modelled size x %.2f; scale = 1 instead of it: as modelled", p.Scale))
	} else {
		s.set("weight", "target", "", "")
		s.add("weight", "scale = 1", fmt.Sprintf("as modelled: %.4g mm³ with its hook; or target = \"1/4 oz\" instead", p.Volume))
	}
	for _, k := range n.Keys() {
		if table, name, _ := strings.Cut(k.Key, "."); table != "head" {
			s.set(table, name, k.Value, k.Why)
		}
	}
	for i, k := range p.Keepers {
		s.keeper(k, [2]string{"keeper over the shank", "keeper under the shank"}[i])
	}
	return []byte(strings.Join(s.lines, "\n"))
}

// ShortestLeg and LongestLeg bound the leg of a new job's hook, mm: it begins outside the
// starter's eye, and no job takes a longer one.
const ShortestLeg, LongestLeg = 2.7, 200

// Leg is the hook's, along its own direction, mm. Over LongestLeg the job does not read:
// the head is too large for any hook.
func (n NewJob) Leg() float64 {
	leg := n.Head.Leg
	if shank := n.Head.Shank; shank != nil && shank.LegAngle > 0 {
		leg = math.Round(10*leg/math.Sin(shank.LegAngle)) / 10
	}
	return math.Max(ShortestLeg, leg) // which rounding may miss
}

func trimmed(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// starterText is a job with one key a line.
type starterText struct{ lines []string }

var keyLine = regexp.MustCompile(`^(?:# )?([a-z_]+) = `)

// find is the line of a key, commented out or not, and the end of its table.
func (s *starterText) find(table, key string) (at, end int) {
	in, at := table == "", -1
	for i, line := range s.lines {
		if strings.HasPrefix(line, "[") {
			if in {
				return at, i
			}
			in = strings.HasPrefix(line, "["+table+"]")
		}
		if m := keyLine.FindStringSubmatch(line); in && m != nil && m[1] == key && at < 0 {
			at = i
		}
	}
	return at, len(s.lines)
}

// set gives a key a value and a remark; without a value its line goes.
func (s *starterText) set(table, key, value, remark string) {
	at, _ := s.find(table, key)
	if at < 0 {
		return
	}
	end := at + 1
	for end < len(s.lines) && strings.HasPrefix(s.lines[end], "     ") { // the remark goes on
		end++
	}
	var lines []string
	if value != "" {
		lines = remarked(key+" = "+value, remark)
	}
	s.replace(at, end, lines)
}

// add puts a line with a remark first into a table.
func (s *starterText) add(table, text, remark string) {
	for i, line := range s.lines {
		if strings.HasPrefix(line, "["+table+"]") {
			s.replace(i+1, i+1, remarked(text, remark))
			return
		}
	}
}

func (s *starterText) replace(from, to int, lines []string) {
	s.lines = append(append(append([]string{}, s.lines[:from]...), lines...), s.lines[to:]...)
}

// remarkAt is where remarks begin, remarkEnd where their lines end.
const remarkAt, remarkEnd = 22, 88

// remarked is a line of a job with its remark beside it, over as many lines as
// it takes; under a long line it begins on the next.
func remarked(text, remark string) []string {
	var lines []string
	if len(text) >= remarkAt {
		lines, text = append(lines, text), ""
	}
	line := fmt.Sprintf("%-*s#", remarkAt, text)
	for _, word := range strings.Fields(remark) {
		if len([]rune(line))+1+len([]rune(word)) > remarkEnd {
			lines, line = append(lines, line), fmt.Sprintf("%-*s#", remarkAt, "")
		}
		line += " " + word
	}
	return append(lines, line)
}

// head puts the proposal in place of the starter's table of the head.
func (s *starterText) head(n NewJob) {
	from := -1
	for i, line := range s.lines {
		switch {
		case line == "[head]":
			from = i
		case from >= 0 && strings.HasPrefix(line, "# ---"):
			s.replace(from, i, append(n.headLines(), ""))
			return
		}
	}
}

func (n NewJob) headLines() []string {
	p := n.Head
	lines := []string{"[head]"}
	lines = append(lines, remarked("file = "+strconv.Quote(n.File), "stays where it is")...)
	lines = append(lines, "# halfpour read the following off the mesh. Look at each in a picture:", "#   halfpour check job.toml --picture head.png")
	for _, k := range n.Keys() {
		table, name, _ := strings.Cut(k.Key, ".")
		if table != "head" {
			continue
		}
		lines = append(lines, remarked(name+" = "+k.Value, k.Trust+": "+k.Why)...)
		if name == "nose" && k.Trust == string(placing.Unsure) {
			lines = append(lines, remarked("# nose = "+Direction(p.Pose.Nose.Neg()).String(), "the other way round")...)
		}
		if name == "back" && k.Trust != string(placing.Sure) {
			lines = append(lines, remarked("# back = "+Direction(p.Pose.Back.Neg()).String(), "the other way up, with eye = "+n.point(n.turnedEye()))...)
		}
	}
	for _, e := range p.Eyes[1:] {
		lines = append(lines, remarked("# eye = "+n.point(e.At), "or: "+e.Why)...)
	}
	return append(lines, remarked("# gate = [0, 0, 0]", "where metal enters; left out: the head's highest point")...)
}

// turnedEye is the first eye's place on the other side of the shank.
func (n NewJob) turnedEye() geom.Vec {
	p := n.Head
	return p.Eyes[0].At.Sub(p.Pose.Back.Unit().Mul(2 * p.Leg))
}

// keeper adds a keeper at the end.
func (s *starterText) keeper(points [][2]float64, name string) {
	var text []string
	for _, p := range points {
		text = append(text, "["+trimmed(p[0])+", "+trimmed(p[1])+"]")
	}
	for len(s.lines) > 0 && s.lines[len(s.lines)-1] == "" {
		s.lines = s.lines[:len(s.lines)-1]
	}
	s.lines = append(s.lines, "", "[[keeper]]            # proposed: a spike along the shank, to move or to take out",
		"name = "+strconv.Quote(name), "wire = 0.9", "in_hook = ["+strings.Join(text, ", ")+"] # from the eye: [to the tail, to the back]", "")
}
