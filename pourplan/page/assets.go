package page

import (
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"image/color"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"

	"halfpour/pourplan"
)

//go:embed assets
var assets embed.FS

// scripts are the page's scripts in the order in which they are put together.
// They share one scope; each file has one job and says so on its first line.
var scripts = []string{"vectors.js", "shaders.js", "meshes.js", "model.js", "state.js", "poses.js", "camera.js", "filling.js", "paint.js", "view.js",
	"pointers.js", "controls.js", "spots.js", "scale.js", "bench.js", "shot.js"}

// templates are the page's parts.
var templates = template.Must(template.New("").Funcs(template.FuncMap{
	"raw":     func(s string) template.HTML { return template.HTML(s) }, // of our own making
	"js":      func(s string) template.JS { return template.JS(s) },     // by encoding/json
	"spoken":  spoken,
	"capital": capital,
	"whole":   whole,
}).ParseFS(assets, "assets/*.html"))

// What a page that takes over changes asks for them: a server, or a worker in the
// same browser.
const toServer, toWorker = "transport.js", "transport-worker.js"

// script puts the page's scripts together, and more of them.
func script(more ...string) string {
	var b strings.Builder
	b.WriteString("(() => {\n\"use strict\";\n")
	for _, name := range slices.Concat(scripts, more, []string{"start.js"}) {
		b.WriteString(asset(name))
	}
	b.WriteString("})();\n")
	return b.String()
}

// style is the page's style, with the colours that pictures have too.
func style() string {
	var b strings.Builder
	b.WriteString(":root {")
	for i, half := range []string{"left", "right"} {
		fmt.Fprintf(&b, " --tray-%s: %s; --rubber-%s: %s;", half, pourplan.HexColour(pourplan.TrayColours[i]), half, pourplan.HexColour(pourplan.RubberColours[i]))
	}
	for _, c := range []struct {
		name string
		rgb  color.RGBA
	}{{"metal", pourplan.MetalColour}, {"wire", pourplan.WireColour}, {"gate", pourplan.GateColour}, {"plane", pourplan.PlaneColour}} {
		fmt.Fprintf(&b, " --%s: %s;", c.name, pourplan.HexColour(c.rgb))
	}
	for i, kind := range pourplan.StepKinds {
		fmt.Fprintf(&b, " --%s: %s;", kind, pourplan.HexColour(pourplan.StepColours[i]))
	}
	b.WriteString(" }\n")
	return b.String() + asset("page.css")
}

// asset is a file of the page; those that are named are there, as a test says.
func asset(name string) string {
	data, err := fs.ReadFile(assets, path.Join("assets", name))
	if err != nil {
		return ""
	}
	return string(data)
}

// policy lets the page run its own script and style and nothing else, and load
// nothing; a live page may ask its own server.
func policy(script, style string, live bool) string {
	hash := func(s string) string {
		sum := sha256.Sum256([]byte(s))
		return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
	}
	connect := "'none'"
	if live {
		connect = "'self'"
	}
	return fmt.Sprintf("default-src 'none'; script-src %s; style-src %s; img-src data:; connect-src %s; base-uri 'none'; form-action 'none'",
		hash(script), hash(style), connect)
}

// spoken makes words of the name of a figure in the plan.
func spoken(path string) string {
	return strings.NewReplacer(".", " › ", "_", " ").Replace(path)
}

// withUnit is a number, a space and a unit; timesNumber is 3 x 2.
var (
	withUnit    = regexp.MustCompile(`(\d) (°[CF]|%|mm[²³]?|ml|k?g|oz|min|s|h|d)([^\pL]|$)`)
	timesNumber = regexp.MustCompile(`(\d) ([x×]) (\d)`)
)

// whole keeps numbers and their units on one line.
func whole(s string) string {
	return withUnit.ReplaceAllString(timesNumber.ReplaceAllString(s, "$1\u00a0$2\u00a0$3"), "$1\u00a0$2$3")
}

func capital(s string) string {
	if s == "" {
		return s
	}
	r := []rune(s)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}
