package pourplan

import (
	"encoding/csv"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"

	"halfpour/geom/geomtest"
)

// demoShelf is an invented shelf.
const demoShelf = `
[hook."my 2/0"]
wire = 1.1
eye_inside = 2
leg = 8
shank = 26
gape = 10
[rubber."tin-cure rubber"]
preset = "tin-cure 100:3"
density = 1.3
waste = 7
life = [30, 40]
opened_life = "90 d"
[rubber."tin-cure 100:10"]
preset = "tin-cure 100:10"
density = 1.11
[metal."my alloy"]
composition = { lead = 94, antimony = 6 }
`

func shelfOf(text string) Library {
	return func(name string) (string, []byte, error) {
		if name != ShelfFile || text == "" {
			return name, nil, nil
		}
		return name, []byte(text), nil
	}
}

// namedJob is the short job with rubber and metal by names.
func namedJob(rubber, metal string) string {
	return strings.NewReplacer(`preset = "tin-cure 100:3"`, rubber, `preset = "lead-antimony 4"`, metal).Replace(shortJob)
}

// A job takes things off the shelf by their names; its own keys stand above the shelf's,
// and those above a preset's.
func TestJobFromTheShelf(t *testing.T) {
	job, err := ReadJobWith("job.toml", []byte(namedJob("use = \"tin-cure rubber\"\nshrink = 0.2", `use = "my alloy"`)), shelfOf(demoShelf))
	if err != nil {
		t.Fatal(err)
	}
	r, err := job.Rubber.resolve()
	if err != nil || r.Name != "tin-cure rubber" || r.Density != 1.3 || r.Shrink.Best != 0.2 || r.Waste != 0.07 || r.Continuous != 250 || r.Resolution != 0.1 {
		t.Errorf("%+v, %v", r, err)
	}
	if m, err := job.Metal.resolve(); err != nil || m.Name != "my alloy" || m.Parts.Of("antimony") != 6 || m.Liquidus != 285 || m.FillFactor != 1 {
		t.Errorf("%+v, %v", m, err)
	}
	if low, high, usual := job.Casting.life(); low != 30 || high != 40 || usual {
		t.Errorf("a mold lasts %d to %d shots, usual %v", low, high, usual)
	}
	// What is on the shelf stands above a preset of that name; a preset may be named too.
	job, err = ReadJobWith("job.toml", []byte(namedJob(`use = "tin-cure 100:10"`, `use = "pewter 92"`)), shelfOf(demoShelf))
	if err != nil {
		t.Fatal(err)
	}
	r, _ = job.Rubber.resolve()
	if m, _ := job.Metal.resolve(); r.Density != 1.11 || m.Name != "pewter 92" {
		t.Errorf("%+v, %s", r, m.Name)
	}
	// The short way, and the job's own life.
	text := "rubber = \"tin-cure rubber\"\nmetal = \"my alloy\"\n" + strings.NewReplacer("[rubber]", "", "[metal]", "", `preset = "tin-cure 100:3"`, "", `preset = "lead-antimony 4"`, "").Replace(shortJob) + "\n[casting]\nlife = [5, 6]\n"
	if job, err = ReadJobWith("job.toml", []byte(text), shelfOf(demoShelf)); err != nil {
		t.Fatal(err)
	}
	if low, high, _ := job.Casting.life(); low != 5 || high != 6 || job.Rubber.Name != "tin-cure rubber" || job.Metal.Use != "my alloy" {
		t.Errorf("%d to %d, %+v", low, high, job.Rubber)
	}
	if _, err := ReadJob("job.toml", []byte(text)); err != nil {
		t.Errorf("without a shelf: %v", err)
	}
	for _, c := range []struct{ rubber, shelf, file, key, says string }{
		{`use = "tin-cure ruber"`, demoShelf, "job.toml", "rubber.use", `did you mean "tin-cure rubber"?`},
		{`use = "paste"`, "", "job.toml", "rubber.use", "a shelf, which is not there"},
		{`use = "x"`, "[rubber.x]\nratoi = \"1:1\"\n", "shelf.toml", "rubber.x.ratoi", "did you mean ratio?"},
		{`use = "x"`, "[rubber\n", "shelf.toml", "", ""},
	} {
		_, err := ReadJobWith("job.toml", []byte(namedJob(c.rubber, `use = "my alloy"`)), shelfOf(c.shelf))
		var list JobErrors
		errors.As(err, &list)
		if i := slices.IndexFunc(list, func(e *JobError) bool {
			return e.File == c.file && e.Key == c.key && strings.Contains(e.Error()+e.Hint, c.says)
		}); i < 0 {
			t.Errorf("%s: got %v", c.rubber, err)
		}
	}
	lib := shelfOf(demoShelf)
	if h, r := lib.Names("hook"), lib.Names("rubber"); !slices.Equal(h, []string{"my 2/0"}) || !slices.Equal(r, []string{"tin-cure 100:10", "tin-cure rubber"}) {
		t.Errorf("got %q and %q", h, r)
	}
}

func TestReadShelf(t *testing.T) {
	s, err := ReadShelf("shelf.toml", []byte("\ufeff"+demoShelf))
	if err != nil || len(s.Hooks) != 1 || len(s.Rubbers) != 2 || len(s.Metals) != 1 || s.Metals[0].C.Liquidus != 285 {
		t.Fatalf("%+v, %v", s, err)
	}
	if r, ok := s.Rubber("tin-cure rubber"); !ok || r.Life[1] != 40 || *r.Opens != 90*86400 {
		t.Errorf("%+v", r)
	}
	for text, want := range map[string]string{
		"[rubbers.x]\n":               `did you mean "rubber"?`,
		"rubber = 3\n":                "want tables with names",
		"[metal]\nx = 3\n":            "want a table",
		"[metal.x]\nuse = \"lead\"\n": "cannot be used on the shelf itself",
		"[metal.x]\n":                 "give one of them: preset, composition or density",
		"[rubber.x]\nratio = \"1:1\"\nopened_life = \"2 h\"\n": "must be at least 24 h",
		"[hook.\" x\"]\n":   "without space before or behind it",
		"[hook.x]\nwir=1\n": "did you mean wire?",
	} {
		_, err := ReadShelf("shelf.toml", []byte(text))
		var list JobErrors
		if !errors.As(err, &list) || list[0].Line == 0 || !strings.Contains(list[0].Error()+list[0].Hint, want) {
			t.Errorf("%q: got %v", text, err)
		}
	}
}

// demoLines are an invented autumn.
func demoLines() []ShelfLine {
	label := MoldLabel{Name: "Ball", Heads: 5, HeadG: 7.0868, Hook: "my 2/0, long", Metal: "my alloy", PourC: 329, Turn: "funnels up, noses up", LifeLow: 30, LifeHigh: 40, Lead: true}
	return []ShelfLine{
		{Date: "2026-01-31", Event: CanOpened, Can: "can 1", Rubber: "tin-cure rubber", AG: 1000, BG: 30},
		{Date: "2026-02-01", Event: CanUsed, Can: "can 1", AG: 20.5, BG: 0.625, Note: `a "trial"; cold`},
		{Date: "2026-02-02", Event: MoldMade, Can: "can 1", Rubber: "tin-cure rubber", AG: 118.4, BG: 3.6, Job: "ball/job", Mold: 1, MoldLabel: label},
		{Date: "2026-02-03", Event: CanCounted, Can: "can 1", AG: 860, BG: 25},
		{Date: "2026-02-04", Event: MoldMade, Can: "can 1", Rubber: "tin-cure rubber", AG: 118.4, BG: 3.6, Job: "ball/job", Mold: 2, MoldLabel: label},
		{Date: "2026-02-05", Event: MoldGone, Job: "ball/job", Mold: 1},
	}
}

func shelfAccountOf(t testing.TB, lines ...ShelfLine) []byte {
	t.Helper()
	var data []byte
	for _, s := range lines {
		more, err := AppendShelf(data, s)
		if err != nil {
			t.Fatal(err)
		}
		data = append(data, more...)
	}
	return data
}

// What is left is the last count less what was taken since.
func TestShelfLeft(t *testing.T) {
	data := shelfAccountOf(t, demoLines()...)
	a, err := ReadShelfAccount(data)
	if err != nil || len(a.Faults) > 0 || !reflect.DeepEqual(a.Lines, demoLines()) {
		t.Fatalf("%+v, %v", a, err)
	}
	if cans := a.Cans(); len(cans) != 1 || cans[0].AG != 741.6 || cans[0].BG != 21.4 || cans[0].Pours(118.4, 3.6) != 5 || cans[0].Pours(741.7, 1) != 0 || cans[0].Pours(10, 21.4) != 1 {
		t.Errorf("%+v", cans)
	}
	if molds := a.Molds(); len(molds) != 1 || molds[0].Mold != 2 || !molds[0].Lead {
		t.Errorf("%+v", molds)
	}
	shelf, err := ReadShelf("", []byte(demoShelf))
	if err != nil {
		t.Fatal(err)
	}
	rubber, _ := shelf.Rubber("tin-cure rubber")
	if day := a.Cans()[0].BestBy(rubber); day != "2026-05-01" { // 90 days from 2026-01-31
		t.Errorf("keeps to %s", day)
	}
	// Undone from behind, one after another, until nothing is left.
	for n := len(demoLines()); n > 0; n-- {
		more, s, err := UndoShelf(data, "2026-03-01", "", func(ShelfLine) bool { return true })
		if err != nil || s.Event != demoLines()[n-1].Event || !s.TakesBack {
			t.Fatalf("%+v, %v", s, err)
		}
		data = append(data, more...)
		if a, err = ReadShelfAccount(data); err != nil || len(a.Faults) > 0 || !reflect.DeepEqual(a.Lines, append([]ShelfLine{}, demoLines()[:n-1]...)) {
			t.Fatalf("%d left: %+v, %v", n-1, a, err)
		}
	}
	if _, _, err := UndoShelf(data, "2026-03-01", "", func(ShelfLine) bool { return true }); !errors.Is(err, ErrNothingToUndo) {
		t.Errorf("got %v", err)
	}
	// A can that no line opens any more takes nothing along, and is told.
	a.Lines = demoLines()[1:2]
	if len(a.Cans()) != 0 || !slices.Equal(a.Lost(), []string{"can 1"}) {
		t.Errorf("%+v, %q", a.Cans(), a.Lost())
	}
}

// Lines that do not go with the account, or make no sense, are refused.
func TestShelfRefuses(t *testing.T) {
	data := shelfAccountOf(t, demoLines()...)
	good := demoLines()
	for _, c := range []struct {
		want   string
		change func(s *ShelfLine)
	}{
		{`can "can 1" is open already`, func(s *ShelfLine) { *s = good[0] }},
		{`no can "can 2" is open`, func(s *ShelfLine) { *s = good[1]; s.Can = "can 2" }},
		{"mold 2 of ball/job was made already", func(s *ShelfLine) { *s = good[4] }},
		{"mold 1 of ball/job was not made, or is gone", func(s *ShelfLine) { *s = good[5] }},
		{"date must be a day", func(s *ShelfLine) { *s = good[1]; s.Date = "1.2.26" }},
		{"a_g and b_g must be 0 to", func(s *ShelfLine) { *s = good[1]; s.AG = -1 }},
		{"used needs a can and what was taken", func(s *ShelfLine) { *s = good[1]; s.AG, s.BG = 0, 0 }},
		{"opened needs a can, its rubber", func(s *ShelfLine) { *s = good[0]; s.Rubber = "" }},
		{"counted needs a can", func(s *ShelfLine) { *s = good[3]; s.Can = "" }},
		{"made needs a job", func(s *ShelfLine) { *s = good[4]; s.Mold = 0 }},
		{"event must be one of", func(s *ShelfLine) { *s = good[1]; s.Event = "lent" }},
		{"text must be a name on one line", func(s *ShelfLine) { *s = good[1]; s.Note = "a\nb" }},
		{"heads and life must be", func(s *ShelfLine) { *s = good[4]; s.Mold = 3; s.Heads = -1 }},
		{"label must have a weight", func(s *ShelfLine) { *s = good[4]; s.Mold = 3; s.PourC = -1 }},
	} {
		var s ShelfLine
		c.change(&s)
		if more, err := AppendShelf(data, s); more != nil || err == nil || !strings.HasPrefix(err.Error(), c.want) {
			t.Errorf("got %q, %v, want %s", more, err, c.want)
		}
	}
}

// What a spreadsheet makes of the account reads the same, and what is added then stands
// in its form.
func TestShelfSavedByASpreadsheet(t *testing.T) {
	next := ShelfLine{Date: "2026-02-06", Event: CanUsed, Can: "can 1", AG: 1.5, BG: 0.1, Note: "one; two, \"three\""}
	for _, separator := range []string{",", ";", "\t"} {
		for _, end := range []string{"\r\n", "\n", "\r"} {
			for _, mark := range []string{"", "\ufeff"} {
				for _, quoted := range []bool{false, true} {
					for _, backwards := range []bool{false, true} {
						rows, err := csv.NewReader(strings.NewReader(string(shelfAccountOf(t, demoLines()...)))).ReadAll()
						if err != nil {
							t.Fatal(err)
						}
						for i := range rows {
							rows[i] = append(rows[i], "more", "")
							if backwards {
								slices.Reverse(rows[i])
							}
						}
						data := []byte(mark + joinedCSV(rows, separator, end, quoted))
						more, err := AppendShelf(data, next)
						if err != nil {
							t.Fatal(err)
						}
						back, _, err := UndoShelf(append(data, more...), "2026-02-07", "", func(ShelfLine) bool { return true })
						if err != nil {
							t.Fatal(err)
						}
						a, err := ReadShelfAccount(append(slices.Clone(data), more...))
						if err != nil || len(a.Faults) > 0 || !reflect.DeepEqual(a.Lines, append(demoLines(), next)) {
							t.Fatalf("%q %q %v: %+v, %v", separator, end, quoted, a, err)
						}
						if a, err = ReadShelfAccount(append(append(slices.Clone(data), more...), back...)); err != nil || a.TakenBack != 1 || !reflect.DeepEqual(a.Lines, demoLines()) {
							t.Fatalf("%q %q %v: %+v, %v", separator, end, quoted, a, err)
						}
					}
				}
			}
		}
	}
}

// Wherever the account is cut off, what was whole stays, and the next line stands by
// itself.
func TestShelfCutOffAnywhere(t *testing.T) {
	full, next := shelfAccountOf(t, demoLines()...), ShelfLine{Date: "2026-03-01", Event: CanOpened, Can: "next", Rubber: "x", AG: 1}
	for cut := range len(full) + 1 {
		data := slices.Clone(full[:cut])
		whole := max(0, strings.Count(string(data), "\n")-1)
		more, err := AppendShelf(data, next)
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		a, err := ReadShelfAccount(append(data, more...))
		if err != nil {
			t.Fatalf("cut at %d: %v", cut, err)
		}
		last := len(a.Lines) - 1
		if a.Lines[last] != next || last < whole || last > whole+1 || !reflect.DeepEqual(a.Lines[:whole], demoLines()[:whole]) {
			t.Fatalf("cut at %d: %d lines were whole, got %+v", cut, whole, a.Lines)
		}
	}
}

// No bytes panic the readers; what counts can be written and read again.
func FuzzReadShelfAccount(f *testing.F) {
	for _, s := range shelfAccountSamples(f) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, data []byte) { tryShelfAccount(t, data) })
}

// FuzzReadShelf reads any text as a shelf.
func FuzzReadShelf(f *testing.F) {
	f.Add([]byte(demoShelf))
	f.Add([]byte("[rubber]\nx = {}\n[[metal]]\nhook.\"a.b\".wire = 1\n"))
	f.Fuzz(func(t *testing.T, data []byte) { tryShelf(t, data) })
}

// Broken copies of the samples fare as what fuzzing finds.
func TestMangledShelf(t *testing.T) {
	geomtest.Mangle(t, shelfAccountSamples(t), tryShelfAccount)
	geomtest.Mangle(t, [][]byte{[]byte(demoShelf)}, tryShelf)
}

func shelfAccountSamples(t testing.TB) [][]byte {
	data := shelfAccountOf(t, demoLines()...)
	return [][]byte{data, data[:len(data)/2], []byte(strings.ReplaceAll(string(data), ",", ";"))}
}

func tryShelf(t testing.TB, data []byte) {
	if s, err := ReadShelf("shelf.toml", data); err == nil && s == nil || err != nil && err.Error() == "" {
		t.Errorf("%v, %v", s, err)
	}
}

func tryShelfAccount(t testing.TB, data []byte) {
	a, err := ReadShelfAccount(data)
	if err != nil {
		return
	}
	a.Cans()
	a.Molds()
	a.Lost()
	var written []byte
	for _, s := range a.Lines {
		more, err := shelfForm.add(written, s.fields())
		if err != nil {
			t.Fatal(err)
		}
		written = append(written, more...)
	}
	again, err := ReadShelfAccount(written)
	if err != nil || len(again.Faults) > 0 || len(again.Lines) != len(a.Lines) || len(a.Lines) > 0 && !reflect.DeepEqual(again.Lines, a.Lines) {
		t.Fatalf("%v\nread    %+v\nwritten %+v", err, a, again)
	}
	next := ShelfLine{Date: "2026-03-01", Event: CanOpened, Can: "\u00e9 next of all", Rubber: "x", AG: 1}
	more, err := AppendShelf(data, next)
	var refused *ShelfRefusal
	if errors.As(err, &refused) {
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	longer, err := ReadShelfAccount(append(slices.Clone(data), more...))
	if err == nil && (len(longer.Lines) != len(a.Lines)+1 || longer.Lines[len(a.Lines)] != next) {
		t.Fatalf("%d lines and one more are %+v", len(a.Lines), longer)
	}
}
