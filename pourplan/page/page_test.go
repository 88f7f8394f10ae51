package page

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"html"
	"io/fs"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"halfpour/pourplan"
)

func write(t *testing.T, c Content) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, c); err != nil {
		t.Fatal(err)
	}
	return strings.ReplaceAll(b.String(), "\u00a0", " ") // as it reads
}

func full(t *testing.T) Content {
	t.Helper()
	b := built(t)
	m, err := NewModel(context.Background(), bodiesOf(b.mold), b.frames)
	if err != nil {
		t.Fatal(err)
	}
	return Content{Plan: b.plan, Drawings: b.draws, Model: m}
}

var shownFigure = regexp.MustCompile(`<data value="([^"]*)" data-figure="([^"]*)">([^<]*)</data>`)

// Every figure of the plan is in the page, as plan.json has it, and what is
// shown of it is its value as far as it is written out.
func TestFiguresAreThePlans(t *testing.T) {
	c := full(t)
	f, err := newFigures(c.Plan)
	if err != nil {
		t.Fatal(err)
	}
	shown := map[string]int{}
	inOther := regexp.MustCompile(`(_s|_g|_percent|price_money)$`) // shown in a larger unit, or rounded up
	for _, m := range shownFigure.FindAllStringSubmatch(write(t, c), -1) {
		value, path, text := html.UnescapeString(m[1]), m[2], strings.Replace(html.UnescapeString(m[3]), "−", "-", 1)
		shown[path]++
		if f.values[path] != value || value == "" {
			t.Errorf("%s is %q on the page, %q in the plan", path, value, f.values[path])
		}
		first, _, _ := strings.Cut(strings.Fields(text)[0], "°")
		x, err := strconv.ParseFloat(first, 64)
		want, _ := strconv.ParseFloat(value, 64)
		if err != nil {
			t.Errorf("%s is shown as %q", path, text)
			continue
		}
		_, decimals, _ := strings.Cut(first, ".")
		if off := math.Abs(x - want); off > 0.5001*math.Pow(10, -float64(len(decimals))) && !inOther.MatchString(path) {
			t.Errorf("%s is %s and is shown as %q", path, value, text)
		}
	}
	for path := range f.values {
		if shown[path] == 0 {
			t.Errorf("%s is not on the page", path)
		}
	}
	for _, must := range []string{"rubber.halves.0.a_g", "rubber.halves.1.b_g", "times.pot_life_room_s", "gate.thickness_mm", "heads.0.finished_g.best", "casting.pour_c"} {
		if shown[must] < 2 {
			t.Errorf("%s is in the list of all figures only", must)
		}
	}
}

// What stands in a job file is text on the page, whatever it is.
func TestTextIsEscaped(t *testing.T) {
	plan := *built(t).plan
	evil := `</script></title><img src=x onerror=alert(1)>"'&`
	plan.Title, plan.Metal.Name, plan.Rubber.Name = evil, evil, evil
	plan.Findings = []pourplan.PlanFinding{{Severity: "warn", Code: "x", Mark: "a", Cavity: evil, Message: evil, Remedy: evil, Unit: evil, Value: 1, AtMM: &[3]float64{}}}
	text := write(t, Content{Plan: &plan, Drawings: built(t).draws})
	if strings.Contains(text, "<img") || strings.Count(text, "</title>") != 1 {
		t.Error("text of the job gets into the page as HTML")
	}
	if n := strings.Count(text, "</script>"); n != 4 {
		t.Errorf("%d ends of scripts, want 4", n)
	}
}

// The page's own script and style are all that it lets run, and it names no
// address.
func TestPolicy(t *testing.T) {
	for _, live := range []bool{false, true} {
		c := full(t)
		c.Live = live
		text := write(t, c)
		for _, part := range []struct{ open, close, directive string }{{"<script>", "</script>", "script-src"}, {"<style>", "</style>", "style-src"}} {
			_, rest, found := strings.Cut(text, part.open)
			body, _, closed := strings.Cut(rest, part.close)
			if !found || !closed || len(body) < 1000 {
				t.Fatalf("no %s in the page", part.open)
			}
			sum := sha256.Sum256([]byte(body))
			if want := part.directive + " 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"; !strings.Contains(html.UnescapeString(text), want+";") {
				t.Errorf("the policy does not let %s run", part.open)
			}
		}
		policy := "connect-src 'none'"
		if live {
			policy = "connect-src 'self'"
		}
		if !strings.Contains(html.UnescapeString(text), policy) {
			t.Errorf("live %v: no %s", live, policy)
		}
		blob := regexp.MustCompile(`id="blob">[^<]*<`)
		if m := regexp.MustCompile(`(https?:)?//[a-z]|\s(style|on[a-z]+)=`).FindString(blob.ReplaceAllString(text, "")); m != "" {
			t.Errorf("the page has %q in it", m)
		}
		if live != strings.Contains(text, "EventSource") {
			t.Errorf("live %v: asks for changes: %v", live, !live)
		}
	}
}

func TestPageIsTheSameAgain(t *testing.T) {
	if first, second := write(t, full(t)), write(t, full(t)); first != second {
		t.Error("the same content gives other bytes")
	}
}

// Every file in the folder is used, and every file that is named is there.
func TestAssets(t *testing.T) {
	entries, err := fs.ReadDir(assets, "assets")
	if err != nil {
		t.Fatal(err)
	}
	named := append(slices.Clone(scripts), toServer, toWorker, "live.js", "start.js", "page.css", "desk.css")
	named = append(named, deskScripts...)
	for _, e := range entries {
		if !slices.Contains(named, e.Name()) && !strings.HasSuffix(e.Name(), ".html") {
			t.Errorf("%s is not used", e.Name())
		}
	}
	for _, name := range named {
		if asset(name) == "" {
			t.Errorf("%s is not there", name)
		}
	}
}

// The page asks its engine in one place, so that another can take it.
func TestOneTransport(t *testing.T) {
	asks := regexp.MustCompile(`\b(fetch\(|EventSource|XMLHttpRequest|WebSocket|sendBeacon|Worker\()|<(iframe|img|link)\b`)
	entries, err := fs.ReadDir(assets, "assets")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if found := asks.MatchString(asset(e.Name())); found != (e.Name() == toServer || e.Name() == toWorker) {
			t.Errorf("%s asks for something itself: %v, %q", e.Name(), found, asks.FindString(asset(e.Name())))
		}
	}
}

// What a plan has now and then finds its figures too.
func TestRarerFigures(t *testing.T) {
	plan := *built(t).plan
	head := plan.Heads[0]
	head.Air = []pourplan.AirPlan{{VolumeMM3: 1.5, HeightMM: 0.5, Vent: 2}, {VolumeMM3: 1.25, HeightMM: 0.25}}
	head.Draw = &pourplan.DrawPlan{Left: pourplan.DrawnHalf{DepthMM: 0.75, Map: &pourplan.DepthMap{Rows: []string{"11 12 13"}}}}
	head.Coat = &pourplan.CoatPlan{AddsG: 0.31, CoatedG: pourplan.Range{Low: 7, Best: 7.4, High: 7.6}}
	plan.Heads = []pourplan.HeadPlan{head, head}
	plan.SealMM, plan.Metal.PotG, plan.Casting.RestS = 0.1, 2500, 90
	plan.Times.PostCureC, plan.Times.PostCureS, plan.Times.Start = 80, 7200, "18:30"
	plan.Buying = &pourplan.BuyingPlan{Molds: 2, HaveG: 100, Kits: []pourplan.KitPlan{{Name: "1 kg", Count: 1, MassG: 1000, PriceMoney: 45}}}
	plan.Cost = &pourplan.CostPlan{Currency: "coins", ShopMoney: 2.2, BreakEvenHeads: 31, NotPriced: []string{"plastic"}}
	text := html.UnescapeString(write(t, Content{Plan: &plan}))
	for _, want := range []string{">1.50 mm³<", "no vent: it stays", ">0.75 mm<", ">0.31 g<", ">2.20 coins<", ">31<", "no price: plastic", ">45.00 coins<", ">2.50 kg<"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page has no %q", want)
		}
	}
	if strings.Contains(text, "11 12 13") || strings.Count(text, ">1.50 mm³<") != 1 {
		t.Error("the page has a map, or a head again that is like the one before")
	}
}

// Every cell of a table has a head, which is said again beside it where the
// table is set as cards.
func TestCellsHaveTheirHeads(t *testing.T) {
	text := write(t, full(t))
	tables := regexp.MustCompile(`(?s)<table class="columns-(\d)">.*?</table>`).FindAllStringSubmatch(text, -1)
	if len(tables) < 6 {
		t.Fatalf("%d tables", len(tables))
	}
	for _, table := range tables {
		columns, _ := strconv.Atoi(table[1])
		if n := strings.Count(table[0], `<th scope="col">`); n != columns {
			t.Errorf("%d heads, want %d", n, columns)
		}
		for _, row := range strings.Split(table[0], `<th scope="row">`)[1:] {
			if n := strings.Count(row, "<td data-head="); n != columns-1 || strings.Contains(row, `data-head=""`) {
				t.Errorf("%d cells with heads, want %d: %s", n, columns-1, row)
			}
		}
	}
	// A value of the wire itself is no stretch of it.
	if !strings.Contains(text, "thick, length as bought") || strings.Contains(text, "alike; wire") {
		t.Error("the wire's own figures stand in the table of its stretches")
	}
}

// Rubber has the colours that it has on pictures, light and dark.
func TestColoursArePicturesOwn(t *testing.T) {
	css := style()
	for i, half := range []string{"left", "right"} {
		if want := "--rubber-" + half + ": " + pourplan.HexColour(pourplan.RubberColours[i]); strings.Count(css, "--rubber-"+half+":") != 1 || !strings.Contains(css, want) {
			t.Errorf("the page has another rubber than %s", want)
		}
	}
}

// A live page says of which save its model is when the figures are of another,
// and then shows none of their findings on it.
func TestModelOfAnotherSave(t *testing.T) {
	b := built(t)
	plan := *b.plan
	at := [3]float64{1, 2, 3}
	plan.Findings = []pourplan.PlanFinding{{Severity: "warn", Code: "thin", Message: "thin rubber", AtMM: &at}}
	for note, spots := range map[string]int{"": 1, "This model is of an earlier save.": 0} {
		text := write(t, Content{Plan: &plan, Live: true, ModelNote: note})
		if !strings.Contains(text, note+"</p><") && !strings.Contains(text, note+"</p>\n") {
			t.Errorf("the page does not say %q", note)
		}
		list := regexp.MustCompile(`(?s)id="spots">(.*?)</script>`).FindStringSubmatch(text)[1]
		if got := strings.Count(list, "severity"); got != spots {
			t.Errorf("with the note %q the model has %d spots, want %d: %s", note, got, spots, list)
		}
		if hidden := strings.Contains(text, `<p id="model-note" role="status" hidden>`); hidden != (note == "") {
			t.Errorf("with the note %q it is hidden: %v", note, hidden)
		}
	}
}

// A number and its unit stand on one line; other words may part.
func TestNumbersKeepTheirUnits(t *testing.T) {
	for in, want := range map[string]string{
		"about 305 °C (582 °F), above": "about 305\u00a0°C (582\u00a0°F), above",
		"limit 1 mm), antimony 4 %":    "limit 1\u00a0mm), antimony 4\u00a0%",
		"3 x 2.4 mm":                   "3\u00a0x\u00a02.4\u00a0mm",
		"0 of 1 vents, 2 molds":        "0 of 1 vents, 2 molds",
	} {
		if got := whole(in); got != want {
			t.Errorf("%q becomes %q, want %q", in, got, want)
		}
	}
}

// A computed shot is on the page, also where the rubber stays below its limit.
func TestComputedShot(t *testing.T) {
	plan := *built(t).plan
	head := plan.Heads[0]
	head.Frozen = &pourplan.FrozenPlan{SolidS: 9.75, SolidMostS: 19.25, GateS: 10.25, GateMostS: 21.75}
	plan.Heads = []pourplan.HeadPlan{head}
	for _, over := range []float64{0, 17.25} {
		c := &plan.Casting
		c.SolidS, c.SolidMostS, c.SkinC, c.SkinOverS, c.HeatReachesMM = 20.25, 36.75, 131, over, 5.25
		text := html.UnescapeString(write(t, Content{Plan: &plan}))
		for _, want := range []string{">20.25 s<", ">36.75 s<", ">9.75 s<", ">19.25 s<", ">10.25 s<", ">21.75 s<", "131 °C", "5.25 mm"} {
			if !strings.Contains(text, want) {
				t.Errorf("the page has no %q", want)
			}
		}
		if strings.Contains(text, "17.25 s") != (over > 0) {
			t.Errorf("%g s over the limit", over)
		}
	}
}
