"""Scripts for pages whose picture nobody looks at, to be run in them before their own."""

from __future__ import annotations

# Without a graphics card nearly all of a browser's time goes into filling triangles, and few tests look at them: in the others
# the page draws as ever, but what it draws with does nothing, and is that of a canvas beside the page's, so that none has to be shown.
# Where the page looks whether it sees something (no-picture.js) it does.
UNFILLED = """
    const pen = WebGL2RenderingContext.prototype, sheets = new WeakMap(), contextOf = HTMLCanvasElement.prototype.getContext
    const idle = /^(draw|clear|uniform|buffer(Sub)?Data|(vertex|enableVertex|disableVertex)Attrib)/
    for (const [name, { value }] of Object.entries(Object.getOwnPropertyDescriptors(pen)))
        if (idle.test(name) && value?.call) pen[name] = () => {}
    pen.readPixels = (x, y, width, height, format, type, pixels) => { pixels[0] = x }
    HTMLCanvasElement.prototype.getContext = function (kind, options) {
        if (kind !== "webgl2") return contextOf.call(this, kind, options)
        if (!sheets.has(this)) sheets.set(this, Object.assign(document.createElement("canvas"), { width: 1, height: 1 }))
        return contextOf.call(sheets.get(this), kind, { ...options, antialias: false })
    }
    Object.defineProperty(window, "standing", { get: () => ({ over: () => null }), set: () => {} }) // nothing to be drawn once for all
"""
COARSE = 0.3  # pixels of the screen for each of the page's, where nobody looks at them
# A page of which nobody asks anything shows a running scene in few pictures: those between take most of a test's time, and nobody
# looks at them. The page tells the bench later that it is ready for the next, as one on a slow machine does; but the pictures that
# follow what it has asked for, or settle(), come at once.
FEW_PICTURES = """
    const send = WebSocket.prototype.send, EVERY = 250, AT_ONCE = 4
    let soon = AT_ONCE, shown = 0, waiting = []
    const ready = () => {
        const lines = waiting
        waiting = []
        shown = performance.now()
        for (const line of lines) if (line.readyState === WebSocket.OPEN) send.call(line, '{"do":"ready"}')
    }
    window.lively = () => {
        soon = AT_ONCE
        ready()
    }
    WebSocket.prototype.send = function (text) {
        if (text !== '{"do":"ready"}') {
            send.call(this, text)
            if (text !== '{"do":"alive"}') window.lively()
            return
        }
        const pause = shown + EVERY - performance.now(), first = waiting.push(this) === 1
        if (--soon >= 0 || pause <= 0) ready()
        else if (first) setTimeout(ready, pause)
    }
"""
