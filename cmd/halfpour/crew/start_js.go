package crew

import "syscall/js"

// Start starts a helper beside this engine, in a worker of its own; nil where the
// browser has no processor or memory to spare. What is sent goes by the scripts of
// the two workers.
//
// Of the leader's script it asks mayHelp(), and takes send(message) and stop() of what
// startHelper(order, hear, ended) returns, or null. Of the helper's script Asked takes
// order, hearLeader(hear) and tellLeader(message).
func Start(order func() (Order, error)) (leader *Engine, stop func()) {
	if !js.Global().Call("mayHelp").Bool() {
		return nil, nil
	}
	o, err := order()
	if err != nil {
		return nil, nil
	}
	files := js.Global().Get("Map").New()
	for path, data := range o.Files {
		files.Call("set", path, toJS(data))
	}
	var helper js.Value
	leader = NewEngine(true, func(m Message) { helper.Call("send", messageToJS(m)) })
	hear := js.FuncOf(func(_ js.Value, args []js.Value) any { leader.Take(messageOf(args[0])); return nil })
	ended := js.FuncOf(func(js.Value, []js.Value) any { leader.Alone(); return nil })
	helper = js.Global().Call("startHelper", js.ValueOf(map[string]any{"job": o.Job, "files": files}), hear, ended)
	if helper.IsNull() {
		hear.Release()
		ended.Release()
		return nil, nil
	}
	return leader, func() {
		helper.Call("stop")
		hear.Release()
		ended.Release()
	}
}

// Asked is what this engine is to help with; nil when it is no helper.
func Asked() (*Engine, Order) {
	help := js.Global().Get("order")
	if !help.Truthy() {
		return nil, Order{}
	}
	o := Order{Job: help.Get("job").String(), Files: map[string][]byte{}}
	take := js.FuncOf(func(_ js.Value, args []js.Value) any { o.Files[args[1].String()] = toGo(args[0]); return nil })
	defer take.Release()
	help.Get("files").Call("forEach", take)
	e := NewEngine(false, func(m Message) { js.Global().Call("tellLeader", messageToJS(m)) })
	js.Global().Call("hearLeader", js.FuncOf(func(_ js.Value, args []js.Value) any { e.Take(messageOf(args[0])); return nil }))
	return e, o
}

func messageToJS(m Message) js.Value {
	return js.ValueOf(map[string]any{"kind": string(m.Kind), "name": m.Name, "data": toJS(m.Data)})
}

func messageOf(v js.Value) Message {
	return Message{Kind: Kind(v.Get("kind").String()), Name: v.Get("name").String(), Data: toGo(v.Get("data"))}
}

func toJS(data []byte) js.Value {
	v := js.Global().Get("Uint8Array").New(len(data))
	js.CopyBytesToJS(v, data)
	return v
}

func toGo(v js.Value) []byte {
	data := make([]byte, v.Length())
	js.CopyBytesToGo(data, v)
	return data
}
