package page

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"halfpour/pourplan"
)

// view is what the template is filled with: texts, and figures by their place
// in the plan.
type view struct {
	Policy, Style, Script string

	Title     string
	Known     bool // there are figures
	Live      bool
	Desk      bool // a job is changed on it
	Seen      int
	Sizes     []Size
	Unchecked bool
	ModelNote string
	Halves    []halfCard
	Ratio     [2]figure
	Step      figure
	PlannedA  string // the A of each cup, g, for the scale's script
	Work      []work
	Sections  map[string]section
	Findings  []finding
	Stops     []string // why the mold must not be made as it is
	Stands    string   // over what data sheets stand
	Drawings  []svg
	Groups    []group
	Model     string // JSON: what is in the blob; "" without a model
	Blob      string
	Shot      string // JSON: how a computed shot freezes; "" without one
	ShotOf    string // what of the mold it shows
	Spots     string // JSON: where the findings are, for the scripts
}

// section is one part of the page below its heading.
type section struct {
	Lines    []string
	Rows     []row
	Tables   []table
	Cautions []string
}

// row is a label with its value: figures, and text between them.
type row struct {
	Label  string
	Value  []figure
	Strong bool
}

type table struct {
	Caption string
	Head    []string
	Rows    [][][]figure // cells of figures
}

// halfCard is what is weighed for one half.
type halfCard struct {
	Half   string
	A, B   figure
	AOunce string
	BOunce string
	Lines  []row // where the rubber ends, to see while pouring
	Rows   []row
}

// finding is one of the checks, for the list.
type finding struct {
	Severity, Mark, Cavity, Message, Limit, Place, Remedy string
	Index                                                 int
	Shown                                                 bool // it has a place in the model
}

// group is a part of the plan in full.
type group struct {
	Name  string
	Lines []listed
}

// text is a part of a value that is no figure of the plan.
func text(format string, args ...any) figure { return figure{Text: fmt.Sprintf(format, args...)} }

func newView(c Content) (view, error) {
	var more []string
	if c.Live {
		more = []string{toServer, "live.js"}
	}
	script, style := script(more...), style()
	v := view{Policy: policy(script, style, c.Live), Style: style, Script: script, Live: c.Live, Seen: c.Seen, Sizes: c.Sizes, Unchecked: c.Unchecked, ModelNote: c.ModelNote, Title: c.Title, Spots: "[]"}
	if c.Plan == nil {
		return v, nil
	}
	f, err := newFigures(c.Plan)
	if err != nil {
		return v, err
	}
	p := c.Plan
	b := builder{p, f}
	v.Known, v.Title, v.Findings = true, p.Title, b.findings()
	for _, g := range p.Stops() {
		v.Stops = append(v.Stops, strings.TrimPrefix(g.Where()+": "+g.Message, ": "))
	}
	v.Sections = map[string]section{
		"rubber": b.rubber(), "times": b.times(), "heads": b.heads(), "casting": b.casting(), "gate": b.gate(),
		"wires": b.wires(), "buying": b.buying(), "cost": b.cost(), "frames": b.frames(), "metals": b.metals(), "draw": b.draw(),
	}
	v.Ratio = [2]figure{f.show("rubber.ratio_a", plain), f.show("rubber.ratio_b", plain)}
	v.Step = f.show("rubber.scale_step_g", plain)
	for i := range p.Rubber.Halves {
		v.Halves = append(v.Halves, b.half(i))
	}
	v.PlannedA = b.plannedA()
	v.Work = []work{newWork("Make the mold", []string{"L", "R"}, pourplan.PourStages(p)), newWork("Cast", []string{""}, pourplan.CastStages(p))}
	for _, caution := range p.Cautions {
		if caution.Code == "sheets-stand-above" {
			v.Stands = caution.Text
		}
	}
	for _, d := range c.Drawings {
		drawn := drawSVG(d)
		markUndercut(&drawn, d, p.Heads)
		v.Drawings = append(v.Drawings, drawn)
	}
	for _, l := range f.list {
		if l.Text && strings.Contains(l.Path, ".map.rows.") {
			continue // numbers by the hundred, for programs
		}
		name, _, _ := strings.Cut(l.Path, ".")
		if n := len(v.Groups); n == 0 || v.Groups[n-1].Name != name {
			v.Groups = append(v.Groups, group{Name: name})
		}
		last := &v.Groups[len(v.Groups)-1]
		last.Lines = append(last.Lines, l)
	}
	if c.ModelNote == "" {
		if v.Spots, err = spots(p); err != nil {
			return v, err
		}
	}
	if v.Shot, err = packShot(c.Cuts); err != nil {
		return v, err
	}
	if len(p.Heads) > 1 && len(c.Cuts) > 0 {
		v.ShotOf = "It shows one kind of cavity, with its neighbours beside it."
		if p.Layout.Runner != nil {
			v.ShotOf = "It shows the whole mold."
		}
	}
	if c.Model != nil {
		var head []byte
		if head, v.Blob, err = c.Model.pack(); err != nil {
			return v, err
		}
		v.Model = string(head)
	}
	return v, f.err
}

// builder makes the sections of a plan.
type builder struct {
	plan *pourplan.Plan
	*figures
}

func (b builder) cautions(steps ...pourplan.Step) []string {
	var list []string
	for _, c := range b.plan.Cautions {
		if slices.Contains(steps, c.Step) && c.Code != "sheets-stand-above" {
			list = append(list, c.Text)
		}
	}
	return list
}

// typical marks a figure that is not the job's but a typical one.
func (b builder) typical(key string) string {
	if slices.Contains(b.plan.Typical, key) {
		return " (typical, not from your data sheet)"
	}
	return ""
}

// line is a row of one figure.
func (b builder) line(label, path string, format func(float64) string) row {
	return row{Label: label, Value: []figure{b.show(path, format)}}
}

// between is a row of a figure and its ends.
func (b builder) between(label, path string, format func(float64) string) row {
	return row{Label: label, Value: b.span(path, format)}
}

func (b builder) span(path string, format func(float64) string) []figure {
	return []figure{b.show(path+".best", format), text(" ("), b.show(path+".low", format), text(" to "), b.show(path+".high", format), text(")")}
}

func strong(r row) row {
	r.Strong = true
	return r
}

// onScale writes a mass as the scale shows it.
func (b builder) onScale(g float64) string {
	return pourplan.OnScale(g, b.plan.Rubber.ScaleStepG) + " g"
}

func (b builder) half(i int) halfCard {
	at := fmt.Sprintf("rubber.halves.%d.", i)
	h := b.plan.Rubber.Halves[i]
	lineA := "A alone in the cup"
	if h.LineAFromMix {
		lineA += " (estimate)"
	}
	c := halfCard{Half: h.Half, A: b.show(at+"a_g", b.onScale), B: b.show(at+"b_g", b.onScale), AOunce: ounces(h.AG), BOunce: ounces(h.BG)}
	c.Lines = []row{
		strong(b.line("Fill line above the floor", at+"fill_from_floor_mm", pourplan.FormatLength)),
		b.line("below the rim", at+"fill_from_rim_mm", pourplan.FormatLength),
	}
	c.Rows = []row{
		b.line(lineA, at+"line_a_ml", cup),
		b.line("A and B in the cup", at+"line_mix_ml", cup),
		b.line("Cup, at least", at+"cup_ml", cup),
		b.line("To fill the tray", at+"frame_mass_g", pourplan.FormatMass),
		b.between("by volume", at+"volume_ml", millilitres),
		b.line("of that, brushed on first (estimate)", at+"brush_coat_g", tenthGrams),
		b.line("Spare", at+"waste_g", tenthGrams),
		b.line("Left in cup and brush", at+"residue_g", tenthGrams),
	}
	return c
}

// plannedA lists the A of each cup, g: of the halves, and of one mix where that
// is advised.
func (b builder) plannedA() string {
	var list []string
	for i := range b.plan.Rubber.Halves {
		list = append(list, b.values[fmt.Sprintf("rubber.halves.%d.a_g", i)])
	}
	if b.plan.Rubber.OneMix.Advised {
		list = append(list, b.values["rubber.one_mix.a_g"])
	}
	return strings.Join(slices.Compact(list), " ")
}

func (b builder) rubber() section {
	r := b.plan.Rubber
	s := section{Cautions: b.cautions(pourplan.StepMix)}
	name := r.Name
	if cure := r.Cure + "-cure"; !strings.Contains(name, cure) {
		name += ", " + cure
	}
	s.Rows = []row{
		{Label: "Rubber", Value: []figure{text("%s", name)}},
		{Label: "A to B by mass", Value: []figure{text("%s", r.Ratio)}},
		b.line("Mixed density"+b.typical("rubber.density"), "rubber.density_g_cm3", density),
		b.line("Both halves, A", "rubber.total_a_g", b.onScale),
		b.line("Both halves, B", "rubber.total_b_g", b.onScale),
		b.line("Both trays hold", "rubber.total_ml", pourplan.FormatVolume),
	}
	one := "Mix each half on its own"
	if r.OneMix.Advised {
		one = "One mix may do for both"
		s.Rows = append(s.Rows, b.line("One mix, A", "rubber.one_mix.a_g", b.onScale), b.line("One mix, B", "rubber.one_mix.b_g", b.onScale),
			b.line("One mix, cup at least", "rubber.one_mix.cup_ml", cup))
	}
	s.Rows = append(s.Rows, row{Label: one, Value: []figure{text("%s", r.OneMix.Reason)}})
	if r.ThinnestMM > 0 {
		thin := b.line("Thinnest rubber", "rubber.thinnest_mm", pourplan.FormatLength)
		thin.Value = append(thin.Value, text(", between %s and %s", r.ThinnestFrom, r.ThinnestTo))
		s.Rows = append(s.Rows, thin)
	}
	if b.has("seal_coat_mm") {
		s.Rows = append(s.Rows, b.line("Seal coat inside the trays, before the rubber", "seal_coat_mm", pourplan.FormatLength))
	}
	return s
}

// ounces shows a mass in avoirdupois ounces.
func ounces(g float64) string { return fmt.Sprintf("%.3f oz", g/pourplan.GramPerOz) }

func cup(ml float64) string {
	return fmt.Sprintf("%.0f ml (%.1f US fl oz)", ml, ml/pourplan.MLPerUSFlOz)
}

func millilitres(ml float64) string { return fmt.Sprintf("%.2f ml", ml) }
func tenthGrams(g float64) string   { return fmt.Sprintf("%.1f g", g) }
func hundredths(g float64) string   { return fmt.Sprintf("%.2f g", g) }
func density(d float64) string      { return fmt.Sprintf("%.4g g/cm³", d) }
func percent(x float64) string      { return fmt.Sprintf("%.4g %%", x) }
func seconds(s float64) string      { return fmt.Sprintf("%.2f s", s) }
func millimetres(x float64) string  { return fmt.Sprintf("%.2f mm", x) }
func degrees(c float64) string      { return fmt.Sprintf("%.0f °C", c) }
func count(n float64) string        { return fmt.Sprintf("%.0f", n) }
func plain(x float64) string        { return fmt.Sprintf("%g", x) }

// upwards shows a time that must not be cut short.
func upwards(s float64) string { return pourplan.FormatDuration(math.Ceil(s)) }

// signed shows which way an angle turns.
func signed(x float64) string { return fmt.Sprintf("%+.0f°", x) }

func minus(g float64) string { return strings.Replace(fmt.Sprintf("%+.2f g", g), "-", "−", 1) }
