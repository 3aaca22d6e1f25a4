// Command build makes web/dist from web/src, web/styles, index.html and
// icon.svg, so that Pairwall runs without Node. It is a module of its own: the
// bundler is no dependency of the program.
//
//	go run -C build .          write the types of the API into src/net/api.ts and bundle into dist
//	go run -C build . -land F  make the map's outline from world-atlas's land-50m.json
//	go run -C build . -test    bundle the tests into a temporary folder and run them with Node
//
// The same sources give the same bytes: no path, time or random name enters.
package main

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

func main() {
	test := flag.Bool("test", false, "run the tests instead of bundling the page")
	land := flag.String("land", "", "make the map's outline anew from this land-50m.json of world-atlas 2.0.2")
	flag.Parse()
	web, err := filepath.Abs("..")
	if err == nil && *test {
		err = runTests(web)
	} else if err == nil && *land != "" {
		err = writeLand(*land, filepath.Join(web, outline))
	} else if err == nil {
		err = errors.Join(writeTypes(web), bundle(web))
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// outline is the land of the map, as one path.
const outline = "vendor/natural-earth/land.txt"

// common is what page and tests are built with alike.
func common(web string) api.BuildOptions {
	return api.BuildOptions{
		AbsWorkingDir: web,
		Bundle:        true,
		Write:         true,
		Target:        api.ES2022,
		Tsconfig:      filepath.Join(web, "tsconfig.json"),
		Alias: map[string]string{ // the compiler reads types by these names, the bundle takes the code
			"preact":             "./vendor/preact/dist/preact.mjs",
			"preact/hooks":       "./vendor/preact/hooks/dist/hooks.mjs",
			"preact/jsx-runtime": "./vendor/preact/jsx-runtime/dist/jsxRuntime.mjs",
		},
		LogLevel: api.LogLevelWarning,
	}
}

// bundle empties dist and fills it anew.
func bundle(web string) error {
	dist := filepath.Join(web, "dist")
	if err := os.RemoveAll(dist); err != nil {
		return err
	}
	options := common(web)
	options.EntryPointsAdvanced = []api.EntryPoint{
		{InputPath: "src/main.ts", OutputPath: "app"},
		{InputPath: "styles/app.css", OutputPath: "app"},
	}
	options.Outdir = "dist"
	options.Format = api.FormatESModule
	options.Platform = api.PlatformBrowser
	options.MinifyWhitespace, options.MinifySyntax, options.MinifyIdentifiers = true, true, true
	options.LegalComments = api.LegalCommentsNone // licences.txt carries them
	if err := failed(api.Build(options)); err != nil {
		return err
	}
	for name, source := range map[string]string{"index.html": "index.html", "icon.svg": "icon.svg", "land.txt": outline} {
		if err := carry(filepath.Join(web, source), filepath.Join(dist, name), ""); err != nil {
			return err
		}
	}
	return carry(filepath.Join(web, "vendor", "preact", "LICENSE"), filepath.Join(dist, "licences.txt"),
		"land.txt is made with Natural Earth (naturalearthdata.com), which is in the public domain.\n\n"+
			"app.js contains Preact (preact, preact/hooks, preact/jsx-runtime) under this licence:\n\n")
}

// carry copies a file, with a few words before it.
func carry(from, to, before string) error {
	text, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return os.WriteFile(to, append([]byte(before), text...), 0o644)
}

// runTests bundles every *.test.ts by itself and hands them to Node's runner.
func runTests(web string) error {
	var tests []string
	err := filepath.WalkDir(filepath.Join(web, "src"), func(path string, _ os.DirEntry, err error) error {
		if strings.HasSuffix(path, ".test.ts") {
			tests = append(tests, path)
		}
		return err
	})
	if err != nil {
		return err
	}
	if len(tests) == 0 {
		return errors.New("there is no test under src")
	}
	folder, err := os.MkdirTemp("", "pairwall-web-test-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(folder)
	options := common(web)
	options.EntryPoints = tests
	options.Outdir = folder
	options.OutExtension = map[string]string{".js": ".mjs"}
	options.Format = api.FormatESModule
	options.Platform = api.PlatformNode
	if err := failed(api.Build(options)); err != nil {
		return err
	}
	built, err := filepath.Glob(filepath.Join(folder, "*", "*.test.mjs"))
	if err != nil {
		return err
	}
	if top, _ := filepath.Glob(filepath.Join(folder, "*.test.mjs")); len(top) > 0 {
		built = append(built, top...) // esbuild drops the folders all tests share
	}
	node := exec.Command("node", append([]string{"--test"}, built...)...)
	node.Dir = web // tests find testdata from here
	node.Stdout, node.Stderr = os.Stdout, os.Stderr
	return node.Run()
}

func failed(result api.BuildResult) error {
	if n := len(result.Errors); n > 0 {
		return fmt.Errorf("esbuild found %d errors", n)
	}
	return nil
}
