// Command webfolder writes the static files of the desk in a browser: the page,
// the worker with the engine as WebAssembly, and what keeps them for later.
//
//	webfolder HALFPOUR.WASM WASM_EXEC.JS FOLDER
//
// wasm_exec.js must be that of the Go that has compiled the engine. The same
// input gives the same bytes.
package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"halfpour/pourplan/page"
)

//go:embed assets
var assets embed.FS

func main() {
	if err := run(os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "webfolder:", err)
		os.Exit(1)
	}
}

func run(args []string) error {
	if len(args) != 3 {
		return errors.New("want three names: the engine, wasm_exec.js, and a folder")
	}
	engine, err := os.ReadFile(args[0])
	if err != nil {
		return err
	}
	runtime, err := os.ReadFile(args[1])
	if err != nil {
		return err
	}
	list, err := files(engine, runtime)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(args[2], 0o777); err != nil {
		return err
	}
	for _, f := range list {
		if err := os.WriteFile(filepath.Join(args[2], f.name), f.data, 0o666); err != nil {
			return err
		}
	}
	return nil
}

type file struct {
	name string
	data []byte
}

// files are those of the folder, for an engine and the script that starts it.
func files(engine, runtime []byte) ([]file, error) {
	var index bytes.Buffer
	if err := page.WriteWebDesk(&index); err != nil {
		return nil, err
	}
	packed, err := pack(engine)
	if err != nil {
		return nil, err
	}
	list := []file{{"index.html", index.Bytes()}, {"halfpour.wasm.gz", packed}, {"wasm_exec.js", runtime}}
	for _, name := range []string{"engine.js", "helper.js", "files.js"} {
		data, err := assets.ReadFile("assets/" + name)
		if err != nil {
			return nil, err
		}
		list = append(list, file{name, data})
	}
	keeper, err := keeperOf(list)
	return append(list, file{"sw.js", keeper}), err
}

// keeperOf is the script that keeps the files in the browser. Its version is that
// of all their bytes, so that a browser sees when one has changed.
func keeperOf(list []file) ([]byte, error) {
	sum := sha256.New()
	names := []string{"./"}
	for _, f := range list {
		fmt.Fprintf(sum, "%s %x\n", f.name, sha256.Sum256(f.data))
		names = append(names, f.name)
	}
	quoted, err := json.Marshal(names)
	if err != nil {
		return nil, err
	}
	script, err := assets.ReadFile("assets/sw.js")
	head := fmt.Sprintf("const version = %q, names = %s;\n", hex.EncodeToString(sum.Sum(nil)), quoted)
	return append([]byte(head), script...), err
}

// pack packs bytes as small as gzip does.
func pack(data []byte) ([]byte, error) {
	var out bytes.Buffer
	w, err := gzip.NewWriterLevel(&out, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	err = w.Close()
	return out.Bytes(), err
}
