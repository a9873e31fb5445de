// Loaded before VPython's scripts. Two things have to be in place before they run: the one timer from which VPython
// draws for ever, changed or not, is handed over here, so that a picture is drawn when something changed and the
// screen is ready for it; and the drawing buffer is made as fine as the machine can fill, whatever the page's size.
"use strict";

window.picture = (function () {
  const plainTimer = window.setTimeout;
  const STILL = 90; // ms without a change after which the picture is drawn once more: VPython settles some things only then
  let draw = null, wanted = false, asked = false, askedAt = 0, settling = 0, held = false;
  const quality = { software: false, smooth: true, scale: 1, plain: false, standing: null };
  const listeners = [];

  window.setTimeout = function (what, after, ...rest) {
    if (after === 17 && typeof what === "function" && what.name === "trigger_render") {
      draw = what;
      if (wanted) ask();
      return 0;
    }
    return plainTimer.call(window, what, after, ...rest);
  };

  function ask() {
    if (asked || draw === null) return;
    asked = true;
    window.requestAnimationFrame(function () {
      asked = false;
      drawNow();
    });
  }

  // Draw what was asked for in the frame that is being made, not in the one after; `must`: though pictures are held back.
  function drawNow(must = false) {
    if (!wanted || (held && !must) || draw === null) return;
    wanted = false;
    const turn = draw, now = performance.now();
    const whole = () => {
      draw = null;
      turn(); // draws, and hands itself back through setTimeout
    };
    if (quality.standing) quality.standing(whole);
    else whole();
    for (const listener of listeners) listener(now, askedAt);
  }

  // Ask for the next frame to be drawn.
  function redraw() {
    window.clearTimeout(settling);
    settling = plainTimer.call(window, want, STILL);
    askedAt = performance.now();
    want();
  }

  function want() {
    wanted = true;
    ask();
  }

  // Draw none, until the function that is returned is called.
  function holdBack() {
    held = true;
    return function () {
      held = false;
      if (wanted) ask();
    };
  }

  // Without a graphics card nearly all the time goes into the light on each point of a surface: VPython works out gloss
  // for any number of lamps of any kind. The bench has two distant lamps and no gloss, so the light is worked out at the
  // corners of the triangles, in the vertex program, and the fragment program only passes it on.
  const LIGHT = "lightAt(); // determine color from lighting";
  const PASS_ON = "in vec3 lit;\nout vec4 output_color;\nvoid main(void) {\n    output_color = vec4(lit, 1.0);\n}\n";
  const HEAD = "#version 300 es\n#ifdef GL_FRAGMENT_PRECISION_HIGH\nprecision highp float;\n#else\nprecision mediump float;\n#endif\n";
  const LIT = "out vec3 lit;\nuniform vec4 light_pos[32];\nuniform vec3 light_color[32];\nuniform vec3 light_ambient;\n";
  const AT_CORNERS = "    vec3 facing = normalize(es_normal);\n    lit = vcolor.rgb * (light_ambient" +
    " + light_color[0] * max(dot(facing, normalize(light_pos[0].xyz)), 0.0)" +
    " + light_color[1] * max(dot(facing, normalize(light_pos[1].xyz)), 0.0));\n}";

  const PROGRAMS = { head: HEAD, light: LIT, atCorners: AT_CORNERS, passOn: PASS_ON };

  function lightPlainly(gl) {
    const shaderSource = gl.shaderSource.bind(gl);
    gl.shaderSource = function (shader, source) {
      shaderSource(shader, plainly(source));
    };
  }

  // With the light at the corners some of what VPython hands to a vertex is not needed, and some drivers then have no place for it.
  // VPython would put it in the first place, over the corners themselves.
  function onlyWhatHasAPlace(gl) {
    for (const name of ["vertexAttribPointer", "enableVertexAttribArray", "disableVertexAttribArray"]) {
      const own = gl[name].bind(gl);
      gl[name] = function (place, ...rest) {
        if (place >= 0) own(place, ...rest);
      };
    }
  }

  /* VPython's programs for solid things with their light worked out at the corners; any other as it is. */
  function plainly(source) {
    if (source.includes(LIGHT) && !source.includes("sampler2D D0")) {
      quality.plain = true;
      return HEAD + PASS_ON;
    }
    const vertex = ["out vec4 vcolor;", "out vec3 es_normal;", "gl_Position = projMatrix"].every((part) => source.includes(part));
    if (!vertex) return source;
    const end = source.lastIndexOf("}");
    return source.slice(0, end).replace("out vec4 vcolor;", LIT + "out vec4 vcolor;") + AT_CORNERS + source.slice(end + 1);
  }

  function isSoftware() {
    const gl = document.createElement("canvas").getContext("webgl2");
    if (!gl) return null;
    const info = gl.getExtension("WEBGL_debug_renderer_info");
    const name = String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER));
    const lose = gl.getExtension("WEBGL_lose_context");
    if (lose) lose.loseContext();
    return /swiftshader|llvmpipe|softpipe|software|basic render/i.test(name);
  }

  quality.software = isSoftware();
  quality.finest = () => Math.min(window.devicePixelRatio || 1, quality.software === false ? 2 : 1); // no finer than the screen
  quality.scale = quality.finest(); // to begin with
  quality.smooth = quality.software === false || window.innerWidth * window.innerHeight < 900000;

  const plainContext = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (kind, options) {
    if (kind !== "webgl2") return plainContext.call(this, kind, options);
    const gl = plainContext.call(this, kind, Object.assign({ alpha: false, antialias: quality.smooth }, options));
    if (gl && !gl.thumbwise) {
      gl.thumbwise = true;
      gl.enable(gl.CULL_FACE); // the inside of a thing is never seen: every mesh of the bench is closed
      if (quality.software !== false) {
        lightPlainly(gl);
        onlyWhatHasAPlace(gl);
      }
      const viewport = gl.viewport.bind(gl), bindFramebuffer = gl.bindFramebuffer.bind(gl);
      const canvas = this;
      let target = null; // remembered here, since to ask for it would wait for the whole picture
      gl.bindFramebuffer = function (kind, buffer) {
        target = buffer;
        bindFramebuffer(kind, buffer);
      };
      // VPython asks for the page's size; the buffer's is what counts
      gl.viewport = function (x, y, width, height) {
        if (target === null) viewport(0, 0, canvas.width, canvas.height);
        else viewport(x, y, width, height);
      };
      if (quality.software !== false && !quality.smooth) {
        quality.standing = window.standing.over(gl, canvas, PROGRAMS, () => target === null, (data) => window.picture.shapeOf(data));
      }
    }
    return gl;
  };

  return { redraw, drawNow, holdBack, quality, onDrawn: function (listener) { listeners.push(listener); } };
})();
