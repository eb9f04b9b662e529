//go:build browsercheck

package sheet_test

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"galefast/internal/quantity"
	"galefast/internal/sheet"
	"galefast/internal/verdict"
)

// These tests look at the documents as readers do: the page in a headless Chromium, the
// PDF through poppler's pdftotext. The script of axe-core, an accessibility checker, is
// named by the variable AXE. .ci/run has all three.

// browser is a Chromium that is spoken to over a pipe, in the DevTools protocol.
type browser struct {
	t      *testing.T
	out    io.Writer
	in     *bufio.Reader
	id     int
	page   string // the page that is spoken to, within the browser
	events []message
}

type message struct {
	ID     int             `json:"id,omitempty"`
	Method string          `json:"method,omitempty"`
	Params json.RawMessage `json:"params,omitempty"`
	Result json.RawMessage `json:"result,omitempty"`
	Error  *struct {
		Message string `json:"message"`
	} `json:"error,omitempty"`
}

func newBrowser(t *testing.T) *browser {
	t.Helper()
	toR, toW, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	fromR, fromW, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	profile, err := os.MkdirTemp("", "browser")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--no-first-run",
		"--disable-background-networking", "--disable-component-update", "--user-data-dir="+profile, "--remote-debugging-pipe", "about:blank")
	cmd.ExtraFiles = []*os.File{toR, fromW} // 3 and 4, as the pipe option asks
	if err := cmd.Start(); err != nil {
		t.Fatalf("chromium: %v", err)
	}
	toR.Close()
	fromW.Close()
	b := &browser{t: t, out: toW, in: bufio.NewReaderSize(fromR, 1<<20)}
	t.Cleanup(func() {
		// Asked to end, it takes its children along; they write to the profile until then.
		fmt.Fprintf(toW, "{\"id\":0,\"method\":\"Browser.close\"}\x00")
		go io.Copy(io.Discard, b.in)
		slow := time.AfterFunc(20*time.Second, func() { cmd.Process.Kill() })
		cmd.Wait()
		slow.Stop()
		toW.Close()
		fromR.Close()
		os.RemoveAll(profile)
	})
	var target struct{ TargetID string }
	b.call(&target, "Target.createTarget", map[string]any{"url": "about:blank"})
	b.call(nil, "Target.attachToTarget", map[string]any{"targetId": target.TargetID})
	b.page = target.TargetID
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		b.call(nil, domain+".enable", nil)
	}
	return b
}

// call asks for something and waits for the answer, keeping the events on the way.
func (b *browser) call(result any, method string, params map[string]any) {
	b.t.Helper()
	b.id++
	request := map[string]any{"id": b.id, "method": method}
	if params != nil {
		request["params"] = params
	}
	text, err := json.Marshal(request)
	if err != nil {
		b.t.Fatal(err)
	}
	if b.page != "" { // wrapped in a message to the browser, which passes it on
		text, err = json.Marshal(map[string]any{"id": -b.id, "method": "Target.sendMessageToTarget", "params": map[string]any{"targetId": b.page, "message": string(text)}})
		if err != nil {
			b.t.Fatal(err)
		}
	}
	if _, err := b.out.Write(append(text, 0)); err != nil {
		b.t.Fatalf("chromium: %v", err)
	}
	for {
		m := b.next()
		if m.ID == -b.id && m.Error != nil {
			b.t.Fatalf("%s: %s", method, m.Error.Message)
		}
		if m.ID != b.id {
			b.events = append(b.events, m)
			continue
		}
		if m.Error != nil {
			b.t.Fatalf("%s: %s", method, m.Error.Message)
		}
		if result != nil {
			if err := json.Unmarshal(m.Result, result); err != nil {
				b.t.Fatalf("%s: %v", method, err)
			}
		}
		return
	}
}

func (b *browser) next() message {
	b.t.Helper()
	text, err := b.in.ReadBytes(0)
	if err != nil {
		b.t.Fatalf("chromium: %v", err)
	}
	var m message
	if err := json.Unmarshal(text[:len(text)-1], &m); err != nil {
		b.t.Fatalf("chromium: %v", err)
	}
	if m.Method != "Target.receivedMessageFromTarget" {
		return m
	}
	var from struct{ Message string }
	var inner message
	if err := json.Unmarshal(m.Params, &from); err != nil {
		b.t.Fatalf("chromium: %v", err)
	}
	if err := json.Unmarshal([]byte(from.Message), &inner); err != nil {
		b.t.Fatalf("chromium: %v", err)
	}
	return inner
}

// open loads a page at a width and waits until it stands.
func (b *browser) open(path string, width, height int, dark bool) {
	b.t.Helper()
	b.events = nil
	scheme := "light"
	if dark {
		scheme = "dark"
	}
	b.call(nil, "Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 600})
	b.call(nil, "Emulation.setEmulatedMedia", map[string]any{"features": []map[string]string{{"name": "prefers-color-scheme", "value": scheme}}})
	b.call(nil, "Page.navigate", map[string]any{"url": "file://" + filepath.ToSlash(path)})
	for deadline := time.Now().Add(30 * time.Second); ; {
		if time.Now().After(deadline) {
			b.t.Fatalf("%s does not load", path)
		}
		var state string
		b.eval(&state, `document.readyState + " " + location.protocol`)
		if state == "complete file:" {
			return
		}
		time.Sleep(20 * time.Millisecond)
	}
}

// eval runs an expression in the page.
func (b *browser) eval(result any, expression string) {
	b.t.Helper()
	var out struct {
		Result    struct{ Value json.RawMessage }
		Exception json.RawMessage `json:"exceptionDetails"`
	}
	b.call(&out, "Runtime.evaluate", map[string]any{"expression": expression, "awaitPromise": true, "returnByValue": true})
	if len(out.Exception) > 0 {
		b.t.Fatalf("in the page: %s", out.Exception)
	}
	if result != nil {
		if err := json.Unmarshal(out.Result.Value, result); err != nil {
			b.t.Fatalf("in the page: %v", err)
		}
	}
}

// complaints are errors on the console and requests other than for the page itself.
func (b *browser) complaints(path string) []string {
	var list []string
	for _, e := range b.events {
		switch e.Method {
		case "Runtime.exceptionThrown", "Log.entryAdded":
			list = append(list, string(e.Params))
		case "Runtime.consoleAPICalled":
			if strings.Contains(string(e.Params), `"type":"error"`) {
				list = append(list, string(e.Params))
			}
		case "Network.requestWillBeSent":
			var p struct{ Request struct{ URL string } }
			if err := json.Unmarshal(e.Params, &p); err != nil || p.Request.URL != "file://"+filepath.ToSlash(path) {
				list = append(list, "request for "+p.Request.URL)
			}
		}
	}
	return list
}

// tool runs a program of poppler.
func tool(t *testing.T, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).Output()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	return string(out)
}

// letters is a text without spaces and hyphens, for comparing what was set in lines.
func letters(text string) string {
	return regexp.MustCompile(`[\s\x{00AD}\x{2010}-]+`).ReplaceAllString(text, "")
}

// overlaps names the texts of pictures that run into each other, and what sticks out of
// the page or its own box.
const overlaps = `(() => {
const bad = [];
const width = document.documentElement.clientWidth;
if (document.documentElement.scrollWidth > width) bad.push("the page is " + document.documentElement.scrollWidth + " wide on a screen of " + width);
for (const e of document.querySelectorAll("main *:not(svg *)")) {
  const style = getComputedStyle(e);
  if (style.overflowX === "visible" && e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 1 && style.display !== "inline" && !e.closest("thead"))
    bad.push(e.tagName + " " + e.className + " cuts " + e.textContent.slice(0, 40));
}
for (const svg of document.querySelectorAll("svg")) {
  const room = svg.getBoundingClientRect();
  const texts = [...svg.querySelectorAll("text")].map(e => {
    const r = e.getBoundingClientRect();
    // the strokes of the letters, without the leading of the font
    return e.hasAttribute("transform")
      ? {t: e.textContent, l: r.left + 0.2 * r.width, r: r.right - 0.2 * r.width, a: r.top, b: r.bottom}
      : {t: e.textContent, l: r.left, r: r.right, a: r.top + 0.2 * r.height, b: r.bottom - 0.2 * r.height};
  });
  texts.forEach((x, i) => {
    if (x.l < room.left - 2 || x.r > room.right + 2 || x.a < room.top - 2 || x.b > room.bottom + 2) bad.push("cut: " + x.t);
    for (const y of texts.slice(0, i))
      if (x.l < y.r - 0.5 && y.l < x.r - 0.5 && x.a < y.b - 0.5 && y.a < x.b - 0.5) bad.push("overlap: " + x.t + " / " + y.t);
  });
}
return bad;
})()`

func TestPageInBrowser(t *testing.T) {
	axe, err := os.ReadFile(os.Getenv("AXE"))
	if err != nil {
		t.Fatalf("the variable AXE names axe.min.js of the package axe-core: %v", err)
	}
	b := newBrowser(t)
	folder := t.TempDir()
	for _, c := range everyDocument(t) {
		path := filepath.Join(folder, strings.TrimSuffix(c.name, ".toml")+".html")
		if err := os.WriteFile(path, []byte(written(t, c, "html")), 0o600); err != nil {
			t.Fatal(err)
		}
		for _, view := range []struct {
			width, height int
			dark          bool
		}{{1280, 900, false}, {360, 780, false}, {800, 900, true}} {
			name := fmt.Sprintf("%s at %d", c.name, view.width)
			b.open(path, view.width, view.height, view.dark)
			var bad []string
			b.eval(&bad, overlaps)
			for _, text := range bad {
				t.Errorf("%s: %s", name, text)
			}
			for _, text := range b.complaints(path) {
				t.Errorf("%s: %s", name, text)
			}
			b.eval(nil, string(axe)+"; 0")
			var found struct {
				Passes     int
				Violations []struct {
					ID, Help string
					Nodes    []struct{ HTML string }
				}
			}
			b.eval(&found, `axe.run(document, {resultTypes: ["violations"]}).then(r => ({passes: r.passes.length, violations: r.violations}))`)
			for _, v := range found.Violations {
				t.Errorf("%s: axe: %s: %s, as in %s", name, v.ID, v.Help, v.Nodes[0].HTML)
			}
			if found.Passes < 20 {
				t.Errorf("%s: axe looked at %d rules only", name, found.Passes)
			}
		}
		b.open(path, 1280, 900, false)
		var cells []string
		b.eval(&cells, `[...document.querySelectorAll("table, h1, h2, li, p:not(.hint)")].filter(e => !e.closest("nav")).map(e => e.innerText)`)
		for _, paper := range []struct {
			name          string
			width, height float64
		}{{"A4", 8.27, 11.69}, {"Letter", 8.5, 11}} {
			var printed struct{ Data string }
			b.call(&printed, "Page.printToPDF", map[string]any{"paperWidth": paper.width, "paperHeight": paper.height, "preferCSSPageSize": true, "printBackground": true})
			pdf, err := base64.StdEncoding.DecodeString(printed.Data)
			if err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(folder, "printed.pdf")
			if err := os.WriteFile(file, pdf, 0o600); err != nil {
				t.Fatal(err)
			}
			text := letters(tool(t, "pdftotext", "-raw", file, "-"))
			words := 0
			for _, cell := range cells {
				for _, word := range strings.Fields(cell) {
					words++
					if !strings.Contains(text, letters(word)) {
						t.Errorf("%s printed on %s lacks %q", c.name, paper.name, word)
					}
				}
			}
			if words < 200 {
				t.Errorf("%s has %d words only", c.name, words)
			}
		}
	}
}

// The tool's own PDF has the figures of the record, the five questions on its first
// page, and its text as text.
func TestPDFText(t *testing.T) {
	folder := t.TempDir()
	for _, c := range everyDocument(t) {
		for name, paper := range map[string]sheet.Paper{"a4": sheet.A4, "letter": sheet.Letter} {
			file := filepath.Join(folder, name+".pdf")
			f, err := os.Create(file)
			if err != nil {
				t.Fatal(err)
			}
			if err := c.d.PDF(f, paper); err != nil {
				t.Fatal(err)
			}
			if err := f.Close(); err != nil {
				t.Fatal(err)
			}
			first := tool(t, "pdftotext", "-f", "1", "-l", "1", file, "-")
			for _, q := range fiveQuestions {
				if !strings.Contains(first, q) {
					t.Errorf("%s on %s: %q is not on the first page", c.name, name, q)
				}
			}
			if !strings.Contains(letters(first), letters("whatever burns besides foam; accessibility.")) {
				t.Errorf("%s on %s: the answers run over the first page", c.name, name)
			}
			rows := tool(t, "pdftotext", "-layout", file, "-")
			all := letters(tool(t, "pdftotext", "-raw", file, "-"))
			if strings.Contains(all, "□") {
				t.Errorf("%s on %s: the font lacks a sign", c.name, name)
			}
			for _, x := range c.r.Checks {
				if x.Needs == nil || x.Result == verdict.Unchecked {
					continue
				}
				needs, has := x.In(c.r.Units).Figures()
				row := regexp.MustCompile(fmt.Sprintf(`(?m)^ *%s +.*%s +%s(?: |$)`, x.Result, regexp.QuoteMeta(needs), regexp.QuoteMeta(has)))
				if !row.MatchString(rows) {
					t.Errorf("%s on %s: no row says that something %s which needs %s and has %s (%s)", c.name, name, x.Result, needs, has, x.ID)
				}
			}
			for _, x := range c.r.Ballast.Rows {
				if x.Count != nil && !strings.Contains(all, letters(x.Unit)) {
					t.Errorf("%s on %s: the schedule lacks %s", c.name, name, x.Unit)
				}
			}
			info := tool(t, "pdfinfo", file)
			if !strings.Contains(info, fmt.Sprintf("Page size:       %g x %g", paper.Width, paper.Height)) {
				t.Errorf("%s on %s: %s", c.name, name, info)
			}
		}
	}
	// What the metric sheet prints is metric.
	c := compose(t, "site.toml", sources(t)["school-fair.toml"], quantity.SI, sheet.Options{})
	file := filepath.Join(folder, "si.pdf")
	if err := os.WriteFile(file, []byte(written(t, c, "pdf")), 0o600); err != nil {
		t.Fatal(err)
	}
	if text := tool(t, "pdftotext", file, "-"); strings.Contains(text, "mph") || strings.Contains(text, " lb") {
		t.Error("the metric sheet has US units")
	}
}
