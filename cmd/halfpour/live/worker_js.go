package live

import (
	"context"
	"syscall/js"
)

// Server answers a page in the same browser: the script of a worker carries
// questions and answers. It is safe for concurrent use.
type Server struct{ answers }

// Listen takes what a page may ask for, as for the server of other systems.
func Listen(pages map[string]Document) (*Server, error) { return &Server{newAnswers(pages)}, nil }

// URL is of no use here: the page is there already.
func (s *Server) URL() string { return "" }

// Serve calls serve(ask, hear) of the worker's script, and answers until ctx ends.
//
//   - ask(name, which, body, answer) asks for a name; body is bytes or null. It
//     calls answer(status, type, attach, bytes), as in Reply.
//   - hear(seen, event) calls event(number, kind, text) for each event after that
//     number.
func (s *Server) Serve(ctx context.Context) error {
	ask := func(_ js.Value, args []js.Value) any {
		name, which, body, answer := args[0].String(), args[1].String(), bytesOf(args[2]), args[3]
		go func() {
			reply := s.answer(ctx, name, which, body)
			data := js.Global().Get("Uint8Array").New(len(reply.Body))
			js.CopyBytesToJS(data, reply.Body)
			answer.Invoke(reply.Status, reply.Type, reply.Attach, data)
		}()
		return nil
	}
	hear := func(_ js.Value, args []js.Value) any {
		seen, told := args[0].Int(), args[1]
		go s.events.follow(ctx, seen, func(e event) { told.Invoke(e.number, string(e.kind), e.text) })
		return nil
	}
	js.Global().Call("serve", js.FuncOf(ask), js.FuncOf(hear))
	<-ctx.Done()
	return nil
}

func bytesOf(v js.Value) []byte {
	if v.IsNull() {
		return nil
	}
	data := make([]byte, v.Length())
	js.CopyBytesToGo(data, v)
	return data
}

// follow calls hear for each event until ctx ends: first for the changes behind
// the number that was seen, and for how things are.
func (e *events) follow(ctx context.Context, seen int, hear func(event)) {
	for told := 0; ; {
		list, news := e.after(max(seen, told), told)
		for _, v := range list {
			told = v.number
			hear(v)
		}
		select {
		case <-news:
		case <-ctx.Done():
			return
		}
	}
}
