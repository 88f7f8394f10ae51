package live

import (
	"bufio"
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

func server(t *testing.T) *Server {
	t.Helper()
	s, err := Listen(map[string]Document{
		"":        func(_ int, which string) ([]byte, error) { return []byte("the page" + which), nil },
		"figures": func(int, string) ([]byte, error) { return []byte("figures"), nil },
		"broken":  func(int, string) ([]byte, error) { return nil, errors.New("no figures") },
	})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = s.listener.Close() })
	return s
}

// Who may ask for what: nobody but the page under its name, with its server's
// Host, and from no other site.
func TestWhoMayAsk(t *testing.T) {
	s := server(t)
	_, port, _ := net.SplitHostPort(s.host())
	page := "/" + s.token + "/"
	other := strings.Repeat("0", len(s.token))
	for _, c := range []struct {
		what, method, path string
		host               string
		header             [2]string
		want               int
	}{
		{"the page", "GET", page, "", [2]string{}, 200},
		{"its head", "HEAD", page, "", [2]string{}, 200},
		{"figures", "GET", page + "figures", "", [2]string{}, 200},
		{"by the page itself", "GET", page + "figures", "", [2]string{"Origin", "http://" + s.host()}, 200},
		{"typed in", "GET", page, "", [2]string{"Sec-Fetch-Site", "none"}, 200},
		{"a document that fails", "GET", page + "broken", "", [2]string{}, 500},
		{"another name for the loopback", "GET", page, "localhost:" + port, [2]string{}, 421},
		{"a name led to the loopback", "GET", page, "shop.example:" + port, [2]string{}, 421},
		{"the address without its port", "GET", page, "127.0.0.1", [2]string{}, 421},
		{"another origin", "GET", page, "", [2]string{"Origin", "http://shop.example"}, 403},
		{"another port's origin", "GET", page, "", [2]string{"Origin", "http://127.0.0.1:1"}, 403},
		{"no origin of its own", "GET", page, "", [2]string{"Origin", "null"}, 403},
		{"an empty origin", "GET", page, "", [2]string{"Origin", ""}, 403},
		{"from another site", "GET", page, "", [2]string{"Sec-Fetch-Site", "cross-site"}, 403},
		{"from a sister site", "GET", page, "", [2]string{"Sec-Fetch-Site", "same-site"}, 403},
		{"no token", "GET", "/", "", [2]string{}, 404},
		{"another token", "GET", "/" + other + "/", "", [2]string{}, 404},
		{"half a token", "GET", "/" + s.token[:16] + "/", "", [2]string{}, 404},
		{"the token without a slash", "GET", "/" + s.token, "", [2]string{}, 404},
		{"with a body", "GET", page, "", [2]string{"Content-Length", "9"}, 413},
		{"another document", "GET", page + "plan.json", "", [2]string{}, 404},
		{"up", "GET", page + "../../etc/passwd", "", [2]string{}, 404},
		{"up, in code", "GET", page + "..%2f..%2fetc%2fpasswd", "", [2]string{}, 404},
		{"a drive", "GET", page + "c:%5cwindows%5cwin.ini", "", [2]string{}, 404},
		{"deeper", "GET", page + "figures/", "", [2]string{}, 404},
		{"to write", "POST", page, "", [2]string{}, 405},
		{"to put", "PUT", page + "figures", "", [2]string{}, 405},
		{"to remove", "DELETE", page, "", [2]string{}, 405},
		{"what is allowed", "OPTIONS", page, "", [2]string{}, 405},
	} {
		r := httptest.NewRequest(c.method, c.path, nil)
		r.Host = s.host()
		if c.host != "" {
			r.Host = c.host
		}
		if c.header[0] != "" {
			r.Header.Set(c.header[0], c.header[1])
		}
		if c.header[0] == "Content-Length" {
			r.ContentLength = 9
		}
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		if w.Code != c.want {
			t.Errorf("%s: %d, want %d", c.what, w.Code, c.want)
		}
		if c.want != 200 && strings.Contains(w.Body.String(), "the page") {
			t.Errorf("%s: gets the page", c.what)
		}
		for key, want := range map[string]string{"Cache-Control": "no-store", "X-Content-Type-Options": "nosniff", "Content-Security-Policy": "frame-ancestors 'self'"} {
			if got := w.Header().Get(key); got != want {
				t.Errorf("%s: %s is %q, want %q", c.what, key, got, want)
			}
		}
	}
}

// A document hears which of its faces is asked for, whatever that is.
func TestWhichIsAskedFor(t *testing.T) {
	s := server(t)
	for query, want := range map[string]string{
		"": "the page", "?which=": "the page", "?which=3-8-oz": "the page3-8-oz", "?size=x": "the page",
		"?which=..%2F..%2Fetc": "the page../../etc", "?which=a&which=b": "the pagea", "?which=%zz": "the page",
	} {
		r := httptest.NewRequest("GET", "/"+s.token+"/"+query, nil)
		r.Host = s.host()
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		if w.Code != http.StatusOK || w.Body.String() != want {
			t.Errorf("%s: %d, %q, want %q", query, w.Code, w.Body, want)
		}
	}
}

func TestListensOnTheLoopbackAlone(t *testing.T) {
	s, other := server(t), server(t)
	address, ok := s.listener.Addr().(*net.TCPAddr)
	if !ok || !address.IP.IsLoopback() || address.Port == 0 {
		t.Errorf("listens on %v", s.listener.Addr())
	}
	if len(s.token) < 32 || s.token == other.token {
		t.Errorf("tokens %q and %q", s.token, other.token)
	}
}

// A page hears what is told after what it has seen, of a kind the last alone;
// when the context ends the port is closed.
func TestEvents(t *testing.T) {
	s := server(t)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx) }()
	s.Tell(Figures, "none")
	s.Tell(Busy, "one")
	s.Tell(Figures, "two\nlines")
	s.Tell(Status, "three")
	r, err := http.NewRequest("GET", s.URL()+"events?seen=2", nil)
	if err != nil {
		t.Fatal(err)
	}
	answer, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	if got := answer.Header.Get("Content-Type"); got != "text/event-stream" {
		t.Errorf("the events come as %q", got)
	}
	lines := bufio.NewScanner(answer.Body)
	read := func() string {
		var block []string
		for lines.Scan() && lines.Text() != "" {
			block = append(block, lines.Text())
		}
		return strings.Join(block, "|")
	}
	if s.Pages() != 1 {
		t.Errorf("%d pages listen", s.Pages())
	}
	for _, want := range []string{"retry: 1000", "id: 3|event: figures|data: two lines", "id: 4|event: status|data: three"} {
		if got := read(); got != want {
			t.Errorf("heard %q, want %q", got, want)
		}
	}
	s.Tell(Model, "four")
	if got := read(); got != "id: 5|event: model|data: four" {
		t.Errorf("heard %q", got)
	}
	cancel()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("the server does not end")
	}
	if _, err := io.ReadAll(answer.Body); err == nil && lines.Scan() {
		t.Error("a page still hears of it")
	}
	if c, err := net.Dial("tcp", s.host()); err == nil {
		c.Close()
		t.Error("the port is still open")
	}
}

// A page that comes, or was away, hears of the changes behind the last it has
// seen, and how things are whatever it has seen.
func TestEventsAfterABreak(t *testing.T) {
	e := newEvents()
	e.tell(Figures, "a")
	e.tell(Trouble, "b")
	e.tell(Model, "c")
	e.tell(Busy, "d")
	e.tell(Status, "e")
	texts := func(changes, states int) string {
		list, _ := e.after(changes, states)
		text := ""
		for _, v := range list {
			text += v.text
		}
		return text
	}
	for _, c := range []struct {
		changes, states int
		want            string
	}{{0, 0, "abce"}, {1, 0, "bce"}, {3, 0, "be"}, {3, 3, "e"}, {e.last(), e.last(), ""}} {
		if got := texts(c.changes, c.states); got != c.want {
			t.Errorf("after %d and %d: %q, want %q", c.changes, c.states, got, c.want)
		}
	}
	if numberOf("x") != 0 || numberOf("7") != 7 {
		t.Error("numbers are not read")
	}
}

// Requests that never come whole hold few connections, and none for long: the
// page is served meanwhile, and events go on past the time that an answer has.
func TestHalfSentRequests(t *testing.T) {
	s := server(t)
	s.answerTime = time.Second
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx) }()
	answer, err := http.Get(s.URL() + "events")
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	halves := []string{"GET / HTTP/1.1\r\nHost: ", "POST / HTTP/1.1\r\nHost: " + s.host() + "\r\nContent-Length: 100\r\n\r\nx"}
	var open []net.Conn
	for i := range 120 {
		c, err := net.Dial("tcp", s.host())
		if err != nil {
			t.Fatal(err)
		}
		defer c.Close()
		if _, err := io.WriteString(c, halves[i%2]); err != nil {
			t.Fatal(err)
		}
		open = append(open, c)
	}
	start := time.Now()
	page, err := (&http.Client{Timeout: 20 * time.Second, Transport: &http.Transport{}}).Get(s.URL())
	if err != nil {
		t.Fatal(err)
	}
	page.Body.Close()
	t.Logf("the page came after %v", time.Since(start))
	for i, c := range open {
		if err := c.SetReadDeadline(time.Now().Add(20 * time.Second)); err != nil {
			t.Fatal(err)
		}
		if _, err := io.Copy(io.Discard, c); err != nil && !strings.Contains(err.Error(), "reset") {
			t.Fatalf("request %d of %d is still held: %v", i, len(open), err)
		}
	}
	time.Sleep(time.Until(start.Add(requestTime + time.Second)))
	s.Tell(Status, "still here")
	lines := bufio.NewScanner(answer.Body)
	for lines.Scan() && lines.Text() != "data: still here" {
	}
	if lines.Text() != "data: still here" {
		t.Errorf("the events have ended: %v", lines.Err())
	}
}

// So many connections at most are open at once.
func TestMostConnections(t *testing.T) {
	s := server(t)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	go func() { _ = s.Serve(ctx) }()
	var answers []*http.Response
	client := &http.Client{Transport: &http.Transport{}}
	for range mostConnections {
		answer, err := client.Get(s.URL() + "events")
		if err != nil {
			t.Fatal(err)
		}
		defer answer.Body.Close()
		answers = append(answers, answer)
	}
	late := &http.Client{Timeout: 300 * time.Millisecond, Transport: &http.Transport{}}
	if answer, err := late.Get(s.URL()); err == nil {
		answer.Body.Close()
		t.Error("one more is let in")
	}
	answers[0].Body.Close()
	late.Timeout = 10 * time.Second
	answer, err := late.Get(s.URL())
	if err != nil {
		t.Fatalf("none is let in when one has gone: %v", err)
	}
	answer.Body.Close()
}

// What changes something takes a POST of the page's own, of a stated length.
func TestWhoMayChange(t *testing.T) {
	s := server(t)
	s.Handle("set", 8, func(_ context.Context, which string, body []byte) Reply {
		return Reply{Status: 202, Type: "application/json", Attach: "a b.json", Body: append([]byte(which+" "), body...)}
	})
	s.Handle("form", 0, func(context.Context, string, []byte) Reply {
		return Reply{Type: "application/json", Body: []byte("{}")}
	})
	page, own := "/"+s.token+"/", "http://"+s.host()
	for _, c := range []struct {
		what, method, path, origin, kind, body string
		want                                   int
	}{
		{"the page", "POST", page + "set?which=x", own, postType, "12345678", 202},
		{"to look", "GET", page + "form", "", "", "", 200},
		{"no origin", "POST", page + "set", "", postType, "1", 403},
		{"another origin", "POST", page + "set", "http://shop.example", postType, "1", 403},
		{"a form of another site", "POST", page + "set", own, "text/plain", "1", 415},
		{"too long", "POST", page + "set", own, postType, "123456789", 413},
		{"by a link", "GET", page + "set", "", "", "", 405},
		{"what is looked at", "POST", page + "form", own, postType, "", 405},
		{"without the token", "POST", "/set", own, postType, "1", 413},
	} {
		r := httptest.NewRequest(c.method, "http://"+s.host()+c.path, strings.NewReader(c.body))
		if c.origin != "" {
			r.Header.Set("Origin", c.origin)
		}
		if c.kind != "" {
			r.Header.Set("Content-Type", c.kind)
		}
		w := httptest.NewRecorder()
		s.ServeHTTP(w, r)
		if w.Code != c.want {
			t.Errorf("%s: %d, want %d", c.what, w.Code, c.want)
		}
		if c.want == 202 && (w.Body.String() != "x 12345678" || w.Header().Get("Content-Disposition") != `attachment; filename="a b.json"`) {
			t.Errorf("%s: %q, %v", c.what, w.Body, w.Header())
		}
	}
	unknown := httptest.NewRequest("POST", "http://"+s.host()+page+"set", io.MultiReader(strings.NewReader("1")))
	unknown.Header.Set("Origin", own)
	unknown.Header.Set("Content-Type", postType)
	w := httptest.NewRecorder()
	if s.ServeHTTP(w, unknown); w.Code != 413 {
		t.Errorf("of no stated length: %d", w.Code)
	}
}

// A body over the limit is refused whoever carries it, and so is a name that
// nobody answers.
func TestAnswersWithoutAServer(t *testing.T) {
	a := newAnswers(map[string]Document{"page": func(seen int, which string) ([]byte, error) { return []byte(which), nil }})
	a.Handle("set", 8, func(_ context.Context, _ string, body []byte) Reply { return Reply{Body: body} })
	for _, c := range []struct {
		name, which, body string
		status            int
		want              string
	}{
		{"set", "", "12345678", 200, "12345678"}, {"set", "", "123456789", 413, ""}, {"page", "x", "", 200, "x"}, {"pages", "", "", 404, ""},
	} {
		got := a.answer(context.Background(), c.name, c.which, []byte(c.body))
		if got.Status != c.status || c.want != "" && string(got.Body) != c.want {
			t.Errorf("%s %s: %d %q", c.name, c.body, got.Status, got.Body)
		}
	}
}
