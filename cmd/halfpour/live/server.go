//go:build !js

package live

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"mime"
	"net"
	"net/http"
	"strings"
	"time"

	"golang.org/x/net/netutil"
)

// Server serves until the context of Serve ends. It is safe for concurrent
// use.
type Server struct {
	answers
	listener net.Listener
	token    string

	answerTime time.Duration // answerTime, but in tests
}

// eventsName is where the page hears of changes.
const eventsName = "events"

// Listen takes a free port of the loopback. The documents are served under
// their names; "" is the page itself.
func Listen(pages map[string]Document) (*Server, error) {
	listener, err := net.Listen("tcp4", "127.0.0.1:0")
	if err != nil {
		return nil, fmt.Errorf("cannot serve the page: %w", err)
	}
	var secret [16]byte
	if _, err := rand.Read(secret[:]); err != nil {
		return nil, errors.Join(fmt.Errorf("cannot serve the page: %w", err), listener.Close())
	}
	return &Server{listener: listener, token: hex.EncodeToString(secret[:]), answers: newAnswers(pages), answerTime: answerTime}, nil
}

// URL is where the page is. Whoever knows it may read the page.
func (s *Server) URL() string { return "http://" + s.host() + "/" + s.token + "/" }

func (s *Server) host() string { return s.listener.Addr().String() }

// Any program of this computer may connect: it may hold few connections, and none
// for long. A browser opens six at most, and its requests come whole at once.
const (
	mostConnections = 48
	requestTime     = 2 * time.Second  // until a request has come, its body too
	answerTime      = 30 * time.Second // until a page has been taken
)

// Serve answers until ctx ends, which is no error; then the port is closed.
func (s *Server) Serve(ctx context.Context) error {
	server := &http.Server{Handler: s, ReadTimeout: requestTime, WriteTimeout: s.answerTime, IdleTimeout: time.Minute, MaxHeaderBytes: 1 << 14,
		BaseContext: func(net.Listener) context.Context { return ctx }}
	stop := context.AfterFunc(ctx, func() { _ = server.Close() })
	defer stop()
	if err := server.Serve(netutil.LimitListener(s.listener, mostConnections)); err != nil && ctx.Err() == nil {
		return fmt.Errorf("the page's server: %w", err)
	}
	return nil
}

// ServeHTTP implements http.Handler.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Cache-Control", "no-store")
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Content-Security-Policy", "frame-ancestors 'self'")
	name, ok := s.name(r.URL.Path)
	act, acts := s.actions[name]
	if code := s.refuse(r, act.most); code != 0 {
		h.Set("Connection", "close")
		http.Error(w, http.StatusText(code), code)
		return
	}
	switch {
	case ok && name == eventsName:
		s.events.serve(w, r)
	case ok && (acts || s.pages[name] != nil):
		s.act(w, r, name, act.most)
	default:
		h.Set("Connection", "close")
		http.Error(w, http.StatusText(http.StatusNotFound), http.StatusNotFound)
	}
}

// refuse is the status with which a request is turned away; 0 for a good one. A
// page of another site may make a browser ask, or have its own name lead to the
// loopback: then Origin or Host is not this server's.
func (s *Server) refuse(r *http.Request, most int64) int {
	site := r.Header.Get("Sec-Fetch-Site")
	post := r.Method == http.MethodPost && most > 0
	switch {
	case r.Host != s.host():
		return http.StatusMisdirectedRequest
	case len(r.Header["Origin"]) > 0 && r.Header.Get("Origin") != "http://"+s.host():
		return http.StatusForbidden
	case site != "" && site != "same-origin" && site != "none":
		return http.StatusForbidden
	case post && len(r.Header["Origin"]) == 0: // a browser names it with every POST
		return http.StatusForbidden
	case post && r.Header.Get("Content-Type") != postType:
		return http.StatusUnsupportedMediaType
	case post && (r.ContentLength < 0 || r.ContentLength > most), !post && r.ContentLength != 0:
		return http.StatusRequestEntityTooLarge
	case !post && (most > 0 || r.Method != http.MethodGet && r.Method != http.MethodHead):
		return http.StatusMethodNotAllowed
	}
	return 0
}

// name is what a path asks for, behind the token. No part of a path is ever
// taken for the name of a file.
func (s *Server) name(path string) (string, bool) {
	token, name, found := strings.Cut(strings.TrimPrefix(path, "/"), "/")
	known := subtle.ConstantTimeCompare([]byte(token), []byte(s.token)) == 1
	return name, found && known && strings.HasPrefix(path, "/")
}

// postType is what a POST must call itself: a form of another site cannot.
const postType = "application/octet-stream"

// act answers a request that may be made, with a body of up to so many bytes.
func (s *Server) act(w http.ResponseWriter, r *http.Request, name string, most int64) {
	if most > 1<<20 { // not in a moment, on a busy computer
		_ = http.NewResponseController(w).SetReadDeadline(time.Now().Add(answerTime))
	}
	body, err := io.ReadAll(io.LimitReader(r.Body, most))
	if err != nil {
		return // the page has gone
	}
	reply := s.answer(r.Context(), name, r.URL.Query().Get("which"), body)
	w.Header().Set("Content-Type", reply.Type)
	if reply.Attach != "" {
		w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": reply.Attach}))
	}
	w.WriteHeader(reply.Status)
	_, _ = w.Write(reply.Body)
}
