// Package browser drives a headless browser for tests of pages, and notes what it
// complains of and asks for.
package browser

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// Chromium finds a browser to drive. Where there is none the test is skipped, or fails if
// STOPCARD_NEED_BROWSER is set.
func Chromium(t testing.TB) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser"} {
		if found, err := exec.LookPath(name); err == nil {
			return found
		}
	}
	if os.Getenv("STOPCARD_NEED_BROWSER") != "" {
		t.Fatal("STOPCARD_NEED_BROWSER is set, but no Chromium is found")
	}
	t.Skip("no Chromium is found to open the page with")
	return ""
}

// A Visit is one browser and what it complained of.
type Visit struct {
	context.Context
	t        testing.TB
	mu       sync.Mutex
	trouble  []string
	requests []string
}

// Start starts a browser that ends with the test.
func Start(t testing.TB) *Visit {
	t.Helper()
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(Chromium(t)), chromedp.NoSandbox, chromedp.UserDataDir(t.TempDir()))
	ctx, cancel := context.WithTimeout(context.Background(), 5*time.Minute)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewExecAllocator(ctx, options...)
	t.Cleanup(cancel)
	ctx, _ = chromedp.NewContext(ctx)
	// A browser that closes by itself takes its own processes along.
	t.Cleanup(func() {
		if err := chromedp.Cancel(ctx); err != nil {
			t.Errorf("the browser did not close: %v", err)
		}
	})
	v := &Visit{Context: ctx, t: t}
	if err := chromedp.Listen(ctx, v.note); err != nil {
		t.Fatal(err)
	}
	Call(v, network.Enable, network.EnableParams{})
	return v
}

// note keeps what a page may not do: complain, ask for anything, open an alert.
func (v *Visit) note(event any) {
	v.mu.Lock()
	defer v.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventConsoleAPICalled:
		v.trouble = append(v.trouble, fmt.Sprintf("console %s", e.Type))
	case *runtime.EventExceptionThrown:
		v.trouble = append(v.trouble, e.ExceptionDetails.Text)
	case *log.EventEntryAdded:
		v.trouble = append(v.trouble, e.Entry.Text)
	case *page.EventJavascriptDialogOpening:
		v.trouble = append(v.trouble, "alert "+e.Message)
	case *network.EventRequestWillBeSent:
		v.requests = append(v.requests, e.Request.URL)
	}
}

// Do does what a person does.
func (v *Visit) Do(actions ...chromedp.Action[chromedp.Void]) {
	v.t.Helper()
	if err := chromedp.Do(v, actions...); err != nil {
		v.t.Fatal(err)
	}
}

// Get runs an action and gives its value.
func Get[T any](v *Visit, action chromedp.Action[T]) T {
	v.t.Helper()
	out, err := chromedp.Run(v, action)
	if err != nil {
		v.t.Fatal(err)
	}
	return out
}

// Eval gives the value of a script.
func Eval[T any](v *Visit, script string) T {
	v.t.Helper()
	out, err := chromedp.Run(v, chromedp.Evaluate[T](script))
	if err != nil {
		v.t.Fatalf("%v: %.200s", err, script)
	}
	return out
}

// Call sends the browser a command of its protocol.
func Call[P, R any](v *Visit, command cdp.Command[P, R], params P) R {
	v.t.Helper()
	out, err := chromedp.Call(v, command, params)
	if err != nil {
		v.t.Fatal(err)
	}
	return out
}

// Trouble is what the browser complained of so far.
func (v *Visit) Trouble() []string {
	v.mu.Lock()
	defer v.mu.Unlock()
	return append([]string(nil), v.trouble...)
}

// Quiet fails the test if the browser complained, or if anything was asked for but what
// is the page's own. What was asked for is then forgotten.
func (v *Visit) Quiet(own func(url string) bool) {
	v.t.Helper()
	v.mu.Lock()
	defer v.mu.Unlock()
	for _, text := range v.trouble {
		v.t.Errorf("the browser reports: %s", text)
	}
	for _, u := range v.requests {
		if !own(u) {
			v.t.Errorf("the page asks for %s", u)
		}
	}
	v.requests = nil
}
