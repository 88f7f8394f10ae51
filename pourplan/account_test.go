package pourplan

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"halfpour/geom/geomtest"
)

// demoCastings are an invented evening: two castings, one weighed.
func demoCastings() []Casting {
	return []Casting{
		{Date: "2026-01-31", Mold: 1, Shots: 3, Good: 11, Bad: 4, Note: `first shots, mold cold; "laps"`},
		{Date: "2026-02-01", Mold: 1, Shots: 9, Good: 44, Bad: 1, Note: "grüne Wäsche", Weighing: Weighing{
			Head: "large, left", Weights: []float64{10.61, 10.58, 10.7}, Expected: Range{10.31, 10.6311, 10.82},
			Metal: "lead-antimony 4", MetalMM3: 927.1234, SteelG: 0.4}},
		{Date: "2026-02-02", Mold: 2, Weighing: Weighing{Weights: []float64{3.5437}, Expected: Range{3.4, 3.5437, 3.6},
			Metal: "tin", MetalMM3: 440, SteelG: 0.3}},
	}
}

// accountOf writes castings one after another.
func accountOf(t testing.TB, castings ...Casting) []byte {
	t.Helper()
	var data []byte
	for _, c := range castings {
		more, err := Append(data, c)
		if err != nil {
			t.Fatal(err)
		}
		data = append(data, more...)
	}
	return data
}

const demoAccount = "date,mold,shots,good,bad,head,weights_g,expected_g,low_g,high_g,metal,metal_mm3,steel_g,note\r\n" +
	"2026-01-31,1,3,11,4,,,,,,,,,\"first shots, mold cold; \"\"laps\"\"\"\r\n" +
	"2026-02-01,1,9,44,1,\"large, left\",10.61 10.58 10.7,10.6311,10.31,10.82,lead-antimony 4,927.1234,0.4,grüne Wäsche\r\n" +
	"2026-02-02,2,0,0,0,,3.5437,3.5437,3.4,3.6,tin,440,0.3,\r\n"

func TestAccountAsText(t *testing.T) {
	data := accountOf(t, demoCastings()...)
	if string(data) != demoAccount {
		t.Errorf("got\n%s\nwant\n%s", data, demoAccount)
	}
	// As any reader of RFC 4180 takes it.
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil || len(rows) != 4 || rows[1][13] != `first shots, mold cold; "laps"` {
		t.Errorf("%v, %q", err, rows)
	}
	for name, text := range map[string]string{
		"as written":                  demoAccount,
		"saved by a spreadsheet":      "\ufeff" + strings.ReplaceAll(demoAccount, "\r\n", "\n"),
		"with empty rows":             demoAccount + ",,,,,,,,,,,,,\r\n\r\n",
		"without the last line's end": strings.TrimSuffix(demoAccount, "\r\n"),
		"with a column more": strings.NewReplacer(",note\r\n", ",note,weather\r\n", `laps"""`, `laps""",rain`, "Wäsche\r", "Wäsche,sun\r").
			Replace(demoAccount),
	} {
		a, err := ReadAccount([]byte(text))
		if err != nil || len(a.Faults) > 0 || !reflect.DeepEqual(a.Castings, demoCastings()) {
			t.Errorf("%s: %v, got %+v", name, err, a)
		}
	}
}

// What a spreadsheet makes of an account reads the same, and what is logged then
// stands in the same form.
func TestAccountSavedByASpreadsheet(t *testing.T) {
	next := Casting{Date: "2026-02-03", Mold: 2, Shots: 4, Good: 20, Note: "one; two"}
	for name, form := range map[string]func(rows [][]string) [][]string{
		"as it is":          func(rows [][]string) [][]string { return rows },
		"columns backwards": func(rows [][]string) [][]string { return eachRow(rows, func(r []string) { slices.Reverse(r) }) },
		"a column before": func(rows [][]string) [][]string {
			for i := range rows {
				rows[i] = append([]string{"extra"}, rows[i]...)
			}
			return rows
		},
		"US dates": func(rows [][]string) [][]string {
			return eachRow(rows, func(r []string) {
				r[0] = strings.NewReplacer("2026-01-31", "1/31/2026", "2026-02-01", "02/01/2026", "2026-02-02", "2/2/2026").Replace(r[0])
			})
		},
		"German dates": func(rows [][]string) [][]string {
			return eachRow(rows, func(r []string) {
				r[0] = strings.NewReplacer("2026-01-31", "31.01.2026", "2026-02-01", "1.2.2026", "2026-02-02", "02.02.2026").Replace(r[0])
			})
		},
	} {
		for _, separator := range ",;\t" {
			for _, end := range []string{"\r\n", "\n", "\r"} {
				for _, mark := range []string{"", "\ufeff"} {
					for _, quoted := range []bool{false, true} {
						rows, err := csv.NewReader(strings.NewReader(demoAccount)).ReadAll()
						if err != nil {
							t.Fatal(err)
						}
						text := []byte(mark + joinedCSV(form(rows), string(separator), end, quoted))
						more, err := Append(text, next)
						if err != nil {
							t.Fatalf("%s %q %q: %v", name, separator, end, err)
						}
						a, err := ReadAccount(append(text, more...))
						if err != nil {
							t.Fatal(err)
						}
						want, faults := append(demoCastings(), next), 0
						if name == "US dates" { // told: it may be the second of January
							want[1].Date, faults = "2026-01-02", 1
						}
						if !reflect.DeepEqual(a.Castings, want) || len(a.Faults) != faults || faults > 0 && !a.Faults[0].Counted {
							t.Errorf("%s %q %q %v: %v\ngot  %+v\nwant %+v", name, separator, end, quoted, a.Faults, a.Castings, want)
						}
					}
				}
			}
		}
	}
}

func eachRow(rows [][]string, change func([]string)) [][]string {
	for _, r := range rows {
		change(r)
	}
	return rows
}

// joinedCSV writes rows as other programs do: with another separator, then with
// decimal commas, and with quotes round every field or only where they must be.
func joinedCSV(rows [][]string, separator, end string, quoted bool) string {
	var b strings.Builder
	for i, row := range rows {
		for k, field := range row {
			if _, err := strconv.ParseFloat(field, 64); err == nil && separator != "," {
				field = strings.Replace(field, ".", ",", 1)
			}
			if quoted || strings.ContainsAny(field, separator+"\"") {
				field = `"` + strings.ReplaceAll(field, `"`, `""`) + `"`
			}
			if k > 0 {
				b.WriteString(separator)
			}
			b.WriteString(field)
		}
		if i < len(rows) {
			b.WriteString(end)
		}
	}
	return b.String()
}

func TestNoAccount(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"title = \"Ball\"\n", `must begin with the columns date,mold,shots,`},
		{strings.Replace(demoAccount, "good,bad", "good,good", 1), "must begin with the columns"},
		{strings.Replace(demoAccount, "good,bad", "good,weather", 1), "must begin with the columns"},
		{"\n", "must begin with the columns"},
		{strings.Repeat("x", MaxAccountBytes+1), "too long for an account: 4194305 bytes, at most 4194304"},
	} {
		_, err := ReadAccount([]byte(c.text))
		_, errAppend := Append([]byte(c.text), demoCastings()[0])
		if err == nil || errAppend == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("got %v and %v, want %s", err, errAppend, c.want)
		}
	}
}

// Every line that cannot be taken is told, the others count.
func TestFaultyLines(t *testing.T) {
	for _, c := range []struct{ line, want string }{
		{"31/13/2026,1,3,11,4,,,,,,,,,", `line 5: date must be a day such as 2026-01-31, got "31/13/2026"; not counted`},
		{"2026-02-30,1,3,11,4,,,,,,,,,", `line 5: date must be a day such as 2026-01-31, got "2026-02-30"; not counted`},
		{"2026-02-03,0,3,11,4,,,,,,,,,", "line 5: mold must be 1 to 10000, got 0; not counted"},
		{"2026-02-03,1,three,11,4,,,,,,,,,", `line 5: shots must be a whole number, got "three"; not counted`},
		{"2026-02-03,1,3,-1,4,,,,,,,,,", "line 5: figures must all have a minus, to take a casting back, or none; not counted"},
		{"2026-02-03,1,0,1,0,,,,,,,,,", "line 5: shots must be above 0 to give heads, got 0 with 1 good and 0 bad; not counted"},
		{"2026-02-03,1,0,0,0,,,,,,,,,", "line 5: must have shots or weights, got neither; not counted"},
		{`2026-02-03,1,3,11,4,,"10,61",1,1,1,tin,1,0,`, `line 5: weights_g must be a number with a decimal point, got "10,61"; not counted`},
		{"2026-02-03,1,3,11,4,,10.61,,,,,,,", "line 5: weights need what was expected, low to high, got 0, 0, 0 g; not counted"},
		{"2026-02-03,1,3,11,4,,10.61,10,9,11,tin,0,0,", `line 5: weights need the metal's name, its volume and the steel's mass, got "tin", 0 mm³, 0 g; not counted`},
		{"2026-02-03,1,3", "line 5: must have 14 columns, got 3; not counted"},
		{`2026-02-03,1,3,11,4,a"b,,,,,,,,`, "line 5: column 22: bare \" in non-quoted-field; not counted"},
	} {
		a, err := ReadAccount([]byte(demoAccount + c.line + "\r\n" + "2026-02-04,1,2,10,0,,,,,,,,,\r\n"))
		if err != nil {
			t.Fatal(err)
		}
		if len(a.Castings) != 4 || len(a.Faults) != 1 || a.Faults[0].Error() != c.want {
			t.Errorf("%s: %d castings, %v, want %s", c.line, len(a.Castings), a.Faults, c.want)
		}
	}
}

// Wherever a crash cuts a file off, what was whole before stays, what is
// logged next stands on its own line, and a line that is counted has the
// figures that were written.
func TestCutOffAnywhere(t *testing.T) {
	castings, next := demoCastings(), Casting{Date: "2026-03-01", Mold: 3, Shots: 1, Good: 5, Note: "after the crash"}
	full := accountOf(t, castings...)
	ends := 0 // lines that are whole so far
	for cut := range len(full) + 1 {
		data := append([]byte{}, full[:cut]...)
		if cut > 0 && full[cut-1] == '\n' {
			ends++
		}
		whole := max(0, ends-1) // the header aside
		before, err := ReadAccount(data)
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		more, err := Append(data, next)
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		after, err := ReadAccount(append(data, more...))
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		last := len(after.Castings) - 1
		if !reflect.DeepEqual(after.Castings[last], next) || !reflect.DeepEqual(after.Castings[:last], before.Castings) && last > 0 {
			t.Fatalf("cut at %d: before %+v, after %+v", cut, before, after)
		}
		if last < whole || last > whole+1 {
			t.Fatalf("cut at %d: %d castings, %d were whole", cut, last, whole)
		}
		for i, c := range before.Castings {
			want := castings[i]
			if i == whole { // cut off in its note
				c.Note, want.Note = "", ""
			}
			if !reflect.DeepEqual(c, want) {
				t.Fatalf("cut at %d: got %+v, want %+v", cut, c, want)
			}
		}
		if lost := cut > 0 && ends > 0 && full[cut-1] != '\n' && last == whole && full[cut-1] != '\r'; lost && len(before.Faults) == 0 {
			t.Fatalf("cut at %d: a line is lost and nobody told", cut)
		}
		rows := csv.NewReader(bytes.NewReader(append(data, more...)))
		rows.FieldsPerRecord = -1
		if _, err := rows.ReadAll(); err != nil {
			t.Fatalf("cut at %d: no spreadsheet reads it: %v", cut, err)
		}
	}
}

func TestWeighOfAPlan(t *testing.T) {
	p := plan(t, read(t, shortJob), measuredBalls(3))
	best := p.Heads[0].FinishedG.Best
	w, err := p.Weigh("", []float64{best, best * 1.01})
	if err != nil || len(w.Weights) != 2 || math.Abs(w.MetalMM3-928*cube((1-0.0085678)/(1-shrinkByHand())/1.00999)) > 0.01 || w.Metal != "lead-antimony 4" {
		t.Errorf("%v, %+v", err, w)
	}
	if _, err := p.Weigh("", []float64{best * 28.35}); err == nil || !strings.HasPrefix(err.Error(), "must be within half of what is expected") {
		t.Errorf("ounces for grams: %v", err)
	}
	if _, err := p.Weigh("bell", nil); err == nil || err.Error() != `knows no cavity "bell": did you mean "ball"?` {
		t.Errorf("got %v", err)
	}
	p.Heads[2].Name, p.Heads[2].FinishedG.Best = "large", 2*best
	if _, err := p.Weigh("", []float64{best}); err == nil || err.Error() != "must name the cavity, since the heads differ: one of ball, ball, large" {
		t.Errorf("got %v", err)
	}
}

// No bytes panic the reader; what it counts it can write and read again, and
// a casting behind it changes nothing before it.
func FuzzReadAccount(f *testing.F) {
	for _, s := range accountSamples(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) { tryAccount(t, data) })
}

// planOfAccount has what an account is held against, with prices.
func planOfAccount() *Plan {
	p := &Plan{Heads: make([]HeadPlan, 5), Cost: &CostPlan{MetalPerHeadG: 11, MetalMoney: 0.1, HookMoney: 0.2, MoldMoney: 20, ShopMoney: 2}}
	p.Metal.Name, p.Metal.DensityGCM3 = "lead-antimony 4", Range{10.9, 11.0, 11.1}
	p.Metal.YieldPercent, p.Metal.DrossPercent, p.Metal.ShotG, p.Metal.HeadsPerShotG = 90, 3, 70, 55
	p.Casting.LifeLow, p.Casting.LifeHigh = 50, 200
	return p
}

// Broken copies of the samples fare as what fuzzing finds.
func TestMangledAccount(t *testing.T) { geomtest.Mangle(t, accountSamples(t), tryAccount) }

func accountSamples(t testing.TB) (samples [][]byte) {
	add := func(data []byte) { samples = append(samples, data) }
	add([]byte(demoAccount))
	add([]byte(demoAccount[:200]))
	add([]byte("\ufeff" + demoAccount + "2026-02-03,1,3,11,4,\"open"))
	add([]byte(strings.ReplaceAll(demoAccount, ",", ";")))
	return samples
}

func tryAccount(t testing.TB, data []byte) {
	next := Casting{Date: "2026-03-01", Mold: 3, Shots: 1, Good: 5, Note: "next"}
	a, err := ReadAccount(data)
	if err != nil {
		return
	}
	again, err := ReadAccount(accountOf(t, a.Castings...))
	if err != nil || len(again.Faults) > 0 || !reflect.DeepEqual(again.Castings, a.Castings) {
		t.Fatalf("%v\nread    %+v\nwritten %+v", err, a, again)
	}
	for mold := 1; mold <= 2; mold++ {
		if _, err := json.Marshal(a.Summarise(planOfAccount(), mold)); err != nil {
			t.Fatalf("%v\nread %+v", err, a)
		}
	}
	more, err := Append(data, next)
	if err != nil {
		t.Fatal(err)
	}
	longer, err := ReadAccount(append(append([]byte{}, data...), more...))
	if err != nil {
		return // it has grown too long
	}
	if n := len(a.Castings); len(longer.Castings) != n+1 || !reflect.DeepEqual(longer.Castings[n], next) {
		t.Fatalf("%d castings and one more are %d: %+v", n, len(longer.Castings), longer)
	}
}

// A spreadsheet runs cells that begin with = + - or @: what begins so is kept
// apart from a formula, and comes back as it was.
func TestAccountHoldsNoFormulas(t *testing.T) {
	for _, text := range []string{"=1+1", "+cold", "-", "@home", "'=1+1", "''@", "'tis fine", "plain", "a=b"} {
		c := demoCastings()[1]
		c.Note, c.Head, c.Metal = text, text, text
		data := accountOf(t, c)
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, column := range []int{5, 10, 13} {
			if strings.ContainsRune("=+-@", rune(rows[1][column][0])) {
				t.Errorf("%q stands in the file as %q", text, rows[1][column])
			}
		}
		a, err := ReadAccount(data)
		if err != nil || len(a.Castings) != 1 || !reflect.DeepEqual(a.Castings[0], c) {
			t.Errorf("%q came back as %+v, %v", text, a, err)
		}
	}
}

// A note in which a spreadsheet has put line breaks is one note; a line that a
// crash has cut off within a quote swallows no other.
func TestAccountNoteOfSeveralLines(t *testing.T) {
	const casting, next = "2026-01-31,1,3,11,4,,,,,,,,,", "2026-02-01,1,2,8,2,,,,,,,,,\r\n"
	for _, c := range []struct {
		name, text string
		castings   int
		faults     int
		note       string
	}{
		{"two lines", casting + "\"first\r\nsecond\"\r\n" + next, 2, 0, "first second"},
		{"three lines with an empty one", casting + "\"a\n\nb\"\r\n" + next, 2, 0, "a  b"},
		{"cut off in the note", casting + "\"first\r\n" + next, 1, 1, ""},
		{"cut off before the note", "2026-01-31,1,3,11,4,\"la\r\n" + next, 1, 1, ""},
	} {
		a, err := ReadAccount([]byte(accountForm.header() + c.text))
		if err != nil || len(a.Castings) != c.castings || len(a.Faults) != c.faults || a.Castings[0].Note != c.note {
			t.Errorf("%s: %+v, %v", c.name, a, err)
		}
	}
}

// A line that takes back removes the last with its figures; one with nothing to
// take back, or with signs mixed, is a fault.
func TestAccountTakesBack(t *testing.T) {
	all := demoCastings()
	a, err := ReadAccount(accountOf(t, all...))
	if err != nil {
		t.Fatal(err)
	}
	back, ok := a.Undo(1, "2026-02-03", "wrong mold")
	if !ok || !back.TakesBack || back.Good != 44 {
		t.Fatalf("%+v, %v", back, ok)
	}
	data := accountOf(t, append(all, back)...)
	if a, err = ReadAccount(data); err != nil || len(a.Faults) > 0 || a.TakenBack != 1 || !reflect.DeepEqual(a.Castings, []Casting{all[0], all[2]}) {
		t.Errorf("%+v, %v", a, err)
	}
	// The figures of both lines come to nothing in a spreadsheet.
	if !strings.Contains(string(data), ",-9,-44,-1,\"large, left\",10.61 10.58 10.7,-10.6311,-10.31,-10.82,lead-antimony 4,-927.1234,-0.4,wrong mold\r\n") {
		t.Errorf("got\n%s", data)
	}
	weights, _ := a.Undo(2, "2026-02-03", "")
	if a, err = ReadAccount(accountOf(t, append(all, weights)...)); err != nil || len(a.Castings) != 2 {
		t.Errorf("weights alone: %+v, %v", a, err)
	}
	for _, line := range []string{"2026-02-03,1,-9,-44,-1,,,,,,,,,\r\n", "2026-02-03,1,-3,11,4,,,,,,,,,\r\n", "2026-02-03,-1,3,11,4,,,,,,,,,\r\n"} {
		a, err := ReadAccount(append(accountOf(t, all...), line...))
		if err != nil || len(a.Castings) != 3 || len(a.Faults) != 1 {
			t.Errorf("%q: %+v, %v", line, a, err)
		}
	}
}

// The bounds of a casting's figures, each just inside and just outside.
func TestCastingBounds(t *testing.T) {
	good := demoCastings()[1]
	for _, c := range []struct {
		name   string
		change func(*Casting)
		ok     bool
	}{
		{"as it is", func(*Casting) {}, true},
		{"mold 1", func(c *Casting) { c.Mold = 1 }, true},
		{"mold 0", func(c *Casting) { c.Mold = 0 }, false},
		{"mold 10000", func(c *Casting) { c.Mold = 10000 }, true},
		{"mold 10001", func(c *Casting) { c.Mold = 10001 }, false},
		{"no good head", func(c *Casting) { c.Good = 0 }, true},
		{"less than none", func(c *Casting) { c.Bad = -1 }, false},
		{"100000 shots", func(c *Casting) { c.Shots = 100000 }, true},
		{"100001 shots", func(c *Casting) { c.Shots = 100001 }, false},
		{"heads of no shot", func(c *Casting) { c.Shots = 0 }, false},
		{"a bad head of no shot", func(c *Casting) { c.Shots, c.Good, c.Bad = 0, 0, 1 }, false},
		{"weights alone", func(c *Casting) { c.Shots, c.Good, c.Bad = 0, 0, 0 }, true},
		{"nothing at all", func(c *Casting) { c.Shots, c.Good, c.Bad, c.Weighing = 0, 0, 0, Weighing{} }, false},
		{"shots alone", func(c *Casting) { c.Good, c.Bad, c.Weighing = 0, 0, Weighing{} }, true},
		{"a line end in the note", func(c *Casting) { c.Note = "a\nb" }, false},
		{"a line end in the head", func(c *Casting) { c.Head = "a\rb" }, false},
		{"a tab in the metal", func(c *Casting) { c.Metal = "a\tb" }, false},
		{"100 kg", func(c *Casting) { c.Weights = []float64{1e5} }, true},
		{"more than 100 kg", func(c *Casting) { c.Weights = []float64{1.00001e5} }, false},
		{"no weight", func(c *Casting) { c.Weights = []float64{10, 0} }, false},
		{"expected exactly", func(c *Casting) { c.Expected = Range{10, 10, 10} }, true},
		{"expected from nothing", func(c *Casting) { c.Expected.Low = 0 }, false},
		{"expected below the least", func(c *Casting) { c.Expected.Low = c.Expected.Best + 0.001 }, false},
		{"expected above the most", func(c *Casting) { c.Expected.High = c.Expected.Best - 0.001 }, false},
		{"expected up to 100 kg", func(c *Casting) { c.Expected.High = 1e5 }, true},
		{"expected above 100 kg", func(c *Casting) { c.Expected.High = 1.00001e5 }, false},
		{"no metal named", func(c *Casting) { c.Metal = "" }, false},
		{"no volume", func(c *Casting) { c.MetalMM3 = 0 }, false},
		{"1e8 mm³", func(c *Casting) { c.MetalMM3 = 1e8 }, true},
		{"more than that", func(c *Casting) { c.MetalMM3 = 1.00001e8 }, false},
		{"no steel", func(c *Casting) { c.SteelG = 0 }, true},
		{"less than no steel", func(c *Casting) { c.SteelG = -0.001 }, false},
		{"all steel", func(c *Casting) { c.SteelG = c.Expected.Low }, false},
		{"nearly all steel", func(c *Casting) { c.SteelG = c.Expected.Low - 0.001 }, true},
	} {
		casting := good
		c.change(&casting)
		if err := casting.Check(); (err == nil) != c.ok {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

// A weight within half of what is expected is one head; heads differ from 0.1 %
// of their weight on.
func TestWeighBounds(t *testing.T) {
	p := plan(t, read(t, shortJob), measuredBalls(3))
	for i := range p.Heads {
		p.Heads[i].FinishedG = Range{9, 10, 11}
	}
	for weight, ok := range map[float64]bool{5: false, 5.001: true, 14.999: true, 15: false} {
		if _, err := p.Weigh("", []float64{10, weight}); (err == nil) != ok {
			t.Errorf("%g g of 10: %v", weight, err)
		}
	}
	w, err := p.Weigh("ball", []float64{10.12346, 9.99994})
	if err != nil || w.Weights[0] != 10.1235 || w.Weights[1] != 9.9999 || w.Head != "ball" || w.Expected != (Range{9, 10, 11}) {
		t.Errorf("to 0.1 mg: %+v, %v", w, err)
	}
	near(t, "steel to 0.1 mg", w.SteelG, 0.3729, 1e-12) // 47.5 mm³ of 7.85 g/cm³ are 0.372875 g
	for best, ok := range map[float64]bool{10.0099: true, 10.0102: false, 9.9901: true, 9.9899: false} {
		p.Heads[1].FinishedG.Best = best
		if _, err := p.Weigh("", []float64{10}); (err == nil) != ok {
			t.Errorf("heads of 10 and %g g: %v", best, err)
		}
	}
}

// What is weighed later in a mold is held against what was computed when it was
// new; a job built anew is told apart from 0.1 % of its volume on.
func TestInMold(t *testing.T) {
	a := &Account{Castings: demoCastings()}
	for _, c := range []struct {
		name        string
		mold        int
		head, metal string
		volume      float64
		own         float64
		changed     bool
	}{
		{"the same", 1, "large, left", "lead-antimony 4", 927.1234, 927.1234, false},
		{"built anew, hardly changed", 1, "large, left", "lead-antimony 4", 928, 927.1234, false},
		{"built anew", 1, "large, left", "lead-antimony 4", 928.1, 927.1234, true},
		{"built anew, smaller", 1, "large, left", "lead-antimony 4", 926.1, 927.1234, true},
		{"another mold", 2, "large, left", "lead-antimony 4", 900, 900, false},
		{"another head", 1, "small", "lead-antimony 4", 900, 900, false},
		{"another metal", 1, "large, left", "tin", 900, 900, false},
		{"a casting without weights", 1, "", "", 900, 900, false},
	} {
		w := Weighing{Head: c.head, Metal: c.metal, MetalMM3: c.volume, Weights: []float64{7}}
		own, changed := a.InMold(c.mold, w)
		if own.MetalMM3 != c.own || changed != c.changed || len(own.Weights) != 1 || own.Weights[0] != 7 {
			t.Errorf("%s: %+v, %v", c.name, own, changed)
		}
	}
}

// The last casting of a mold is taken back, not one before it; the same list of
// weights twice is told, a single weight is not.
func TestUndoAndRepeats(t *testing.T) {
	all := append(demoCastings(), Casting{Date: "2026-02-03", Mold: 1, Shots: 2, Good: 7, Bad: 3})
	a := &Account{Castings: all}
	for mold, shots := range map[int]int{1: 2, 2: 0} {
		if c, ok := a.Undo(mold, "2026-02-04", "why"); !ok || c.Shots != shots || c.Mold != mold || c.Date != "2026-02-04" || c.Note != "why" || !c.TakesBack {
			t.Errorf("mold %d: %+v, %v", mold, c, ok)
		}
	}
	if c, ok := a.Undo(3, "", ""); ok {
		t.Errorf("out of nothing: %+v", c)
	}
	one := &Account{Castings: all[:1]}
	if c, ok := one.Undo(1, "", ""); !ok || c.Shots != 3 {
		t.Errorf("the first of all: %+v, %v", c, ok)
	}
	// Each figure tells a casting from another.
	for i, change := range []func(*Casting){
		func(c *Casting) { c.Mold = 9 }, func(c *Casting) { c.Shots = 9 + 1 }, func(c *Casting) { c.Good = 9 }, func(c *Casting) { c.Bad = 9 },
		func(c *Casting) { c.Head = "x" }, func(c *Casting) { c.Metal = "x" }, func(c *Casting) { c.Expected.Low-- },
		func(c *Casting) { c.Weights = []float64{1} },
	} {
		c := all[1]
		change(&c)
		if all[1].sameFigures(c) {
			t.Errorf("change %d is not seen", i)
		}
	}
	if c := all[1]; !c.sameFigures(func() Casting { c.Date, c.Note = "", ""; return c }()) {
		t.Error("dates and notes do not tell castings apart")
	}
	again := all[1]
	if c, ok := a.Repeats(again); !ok || c.Good != 44 {
		t.Errorf("weights logged twice: %+v, %v", c, ok)
	}
	again.Weights = again.Weights[:2]
	if _, ok := a.Repeats(again); ok {
		t.Error("fewer of the weights are not the same")
	}
	if _, ok := a.Repeats(all[2]); ok {
		t.Error("a single weight comes out the same by chance")
	}
	again = all[1]
	again.Mold = 2
	if _, ok := a.Repeats(again); ok {
		t.Error("another mold's heads may weigh the same")
	}
	again.Mold, again.Head = 1, "small"
	if _, ok := a.Repeats(again); ok {
		t.Error("another head may weigh the same")
	}
	two := &Account{Castings: []Casting{{Weighing: Weighing{Weights: []float64{1, 2}}}}}
	if _, ok := two.Repeats(two.Castings[0]); !ok {
		t.Error("two weights are enough")
	}
}
