package main

import (
	"bufio"
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stopcard/stopcard/testdata/demo"
	"golang.org/x/net/websocket"
)

// fox is a Firefox driven by its own protocol (WebDriver BiDi, W3C working draft).
type fox struct {
	t    *testing.T
	ws   *websocket.Conn
	page string // the browsing context
	last int
	url  string
	bad  []string // what it complained of, and what it asked for
}

// message is what comes from the browser: an answer, an error or an event.
type message struct {
	ID      int             `json:"id"`
	Type    string          `json:"type"`
	Method  string          `json:"method"`
	Error   string          `json:"error"`
	Message string          `json:"message"`
	Result  json.RawMessage `json:"result"`
	Params  json.RawMessage `json:"params"`
}

func openFox(t *testing.T) *fox {
	t.Helper()
	name, err := exec.LookPath("firefox-esr")
	if err != nil {
		name, err = exec.LookPath("firefox")
	}
	if err != nil {
		if os.Getenv("STOPCARD_NEED_BROWSER") != "" {
			t.Fatal("STOPCARD_NEED_BROWSER is set, but no Firefox is found")
		}
		t.Skip("no Firefox is found to open the page with")
	}
	dir := t.TempDir()
	// What a browser does by itself on its first start is not the page's doing.
	prefs := `user_pref("browser.shell.checkDefaultBrowser", false);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("app.update.enabled", false);
user_pref("network.captive-portal-service.enabled", false);
user_pref("network.connectivity-service.enabled", false);
`
	if err := os.WriteFile(filepath.Join(dir, "user.js"), []byte(prefs), 0o644); err != nil {
		t.Fatal(err)
	}
	const origin = "http://localhost"
	ctx, cancel := context.WithTimeout(context.Background(), 4*time.Minute)
	c := exec.CommandContext(ctx, name, "--headless", "--no-remote", "--profile", dir, "--remote-debugging-port", "0", "--remote-allow-origins", origin, "about:blank")
	c.Env = append(os.Environ(), "HOME="+dir, "MOZ_CRASHREPORTER_DISABLE=1")
	said, err := c.StderrPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cancel(); c.Wait() })
	at := make(chan string, 1)
	go func() {
		listens := regexp.MustCompile(`listening on (ws://\S+)`)
		for lines := bufio.NewScanner(said); lines.Scan(); {
			if m := listens.FindStringSubmatch(lines.Text()); m != nil {
				at <- m[1]
			}
		}
	}()
	var url string
	select {
	case url = <-at:
	case <-ctx.Done():
		t.Fatal("Firefox did not say where it listens")
	}
	ws, err := websocket.Dial(url+"/session", "", origin)
	if err != nil {
		t.Fatal(err)
	}
	f := &fox{t: t, ws: ws}
	t.Cleanup(func() { ws.Close() })
	f.call("session.new", map[string]any{"capabilities": map[string]any{}})
	f.call("session.subscribe", map[string]any{"events": []string{"network.beforeRequestSent", "log.entryAdded"}})
	var tree struct {
		Contexts []struct {
			Context string `json:"context"`
		} `json:"contexts"`
	}
	if err := json.Unmarshal(f.call("browsingContext.getTree", map[string]any{}), &tree); err != nil || len(tree.Contexts) == 0 {
		t.Fatalf("%v, %+v", err, tree)
	}
	f.page = tree.Contexts[0].Context
	page, err := made()
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "stopcard.html")
	if err := os.WriteFile(file, page, 0o644); err != nil {
		t.Fatal(err)
	}
	f.url = "file://" + file
	f.call("browsingContext.navigate", map[string]any{"context": f.page, "url": f.url, "wait": "complete"})
	return f
}

// call sends a command and waits for its answer; events that come first are noted.
func (f *fox) call(method string, params map[string]any) json.RawMessage {
	f.t.Helper()
	f.last++
	if err := f.ws.SetDeadline(time.Now().Add(answersWithin)); err != nil {
		f.t.Fatal(err)
	}
	if err := websocket.JSON.Send(f.ws, map[string]any{"id": f.last, "method": method, "params": params}); err != nil {
		f.t.Fatal(err)
	}
	for {
		var m message
		switch err := websocket.JSON.Receive(f.ws, &m); {
		case errors.Is(err, os.ErrDeadlineExceeded):
			panic(errSilent)
		case err != nil:
			f.t.Fatalf("%s: %v", method, err)
		}
		if m.Type == "event" {
			f.note(m)
			continue
		}
		if m.ID == f.last {
			if m.Error != "" {
				f.t.Fatalf("%s: %s: %s", method, m.Error, m.Message)
			}
			return m.Result
		}
	}
}

func (f *fox) note(m message) {
	var p struct {
		Level   string `json:"level"`
		Text    string `json:"text"`
		Request struct {
			URL string `json:"url"`
		} `json:"request"`
	}
	if json.Unmarshal(m.Params, &p) != nil {
		return
	}
	switch m.Method {
	case "log.entryAdded":
		if p.Level == "error" || p.Level == "warn" {
			f.bad = append(f.bad, p.Text)
		}
	case "network.beforeRequestSent":
		u := p.Request.URL
		if u != f.url && !strings.HasPrefix(u, "data:") && !strings.HasPrefix(u, "blob:") && !strings.HasPrefix(u, "about:") {
			f.bad = append(f.bad, "asks for "+u)
		}
	}
}

// eval gives the value of a script that is a text.
func (f *fox) eval(script string) string {
	f.t.Helper()
	var got struct {
		Type   string `json:"type"`
		Result struct {
			Value json.RawMessage `json:"value"`
		} `json:"result"`
		ExceptionDetails struct {
			Text string `json:"text"`
		} `json:"exceptionDetails"`
	}
	raw := f.call("script.evaluate", map[string]any{"expression": "String(" + script + ")", "awaitPromise": false, "target": map[string]any{"context": f.page}})
	if err := json.Unmarshal(raw, &got); err != nil {
		f.t.Fatal(err)
	}
	if got.Type != "success" {
		f.t.Fatalf("%s: %.200s", got.ExceptionDetails.Text, script)
	}
	var s string
	if err := json.Unmarshal(got.Result.Value, &s); err != nil {
		f.t.Fatal(err)
	}
	return s
}

func (f *fox) until(what, script string) {
	f.t.Helper()
	for end := time.Now().Add(time.Minute); f.eval(script) != "true"; time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			f.t.Fatalf("waited a minute for %s; said %q, %v", what, f.eval(`document.getElementById("said").textContent`), f.bad)
		}
	}
}

// errSilent is the end of a browser that gives no answer at all, not even a failure. Once
// in a long while one does so on a busy machine; a page that holds it up does so always.
var errSilent = errors.New("the browser does not answer")

const answersWithin = time.Minute // its scripts wait for nothing

// The page works in Firefox as in Chromium, from a file.
func TestAppInFirefoxInBrowser(t *testing.T) {
	if !answered(t, driveFox) {
		t.Logf("%v: once more with another", errSilent)
		if !answered(t, driveFox) {
			t.Fatal(errSilent)
		}
	}
}

// answered reports whether a browser answered to the end.
func answered(t *testing.T, drive func(*testing.T)) (ok bool) {
	defer func() {
		if err := recover(); err != nil && err != errSilent {
			panic(err)
		}
	}()
	drive(t)
	return true
}

func driveFox(t *testing.T) {
	f := openFox(t)
	data, err := demo.Files.ReadFile(demo.Shown)
	if err != nil {
		t.Fatal(err)
	}
	begin := time.Now()
	f.eval(fmt.Sprintf(`(() => { const t = new DataTransfer(); t.items.add(new File([Uint8Array.from(atob(%q), c => c.charCodeAt(0))], %q));
		const i = document.getElementById("files"); i.files = t.files; i.dispatchEvent(new Event("change")); return 1; })()`,
		base64.StdEncoding.EncodeToString(data), demo.Shown))
	f.until("the page of the demo", shown)
	t.Logf("from the choice to the page, cold: %v", time.Since(begin))
	for _, text := range f.bad {
		t.Errorf("the browser reports: %s", text)
	}
}
