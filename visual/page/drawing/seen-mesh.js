// Loaded before before.js: one mesh of things that stand still, of those of their triangles alone of which a point is seen from where
// the eye is. Which these are tells a picture in which each triangle has a colour of its own.
"use strict";

window.seenMesh = function (gl, { head, light, atCorners, passOn }) {
  const EYE = "uniform mat4 viewMatrix;\nuniform mat4 projMatrix;\nin vec3 pos;\n";
  const PLACED = "    vec4 pos4 = viewMatrix * vec4(pos, 1.0);\n    gl_Position = projMatrix * pos4;\n";
  const lit = program(
    head + EYE + "in vec3 normal;\nin vec3 color;\nvec4 vcolor;\nvec3 es_normal;\n" + light + "void main(void) {\n" + PLACED +
    "    es_normal = (viewMatrix * vec4(normal, 0.0)).xyz;\n    vcolor = vec4(color, 1.0);\n" + atCorners, head + passOn);
  const numbered = program(
    head + EYE + "flat out int number;\nvoid main(void) {\n" + PLACED + "    number = gl_VertexID / 3 + 1;\n}",
    head + "flat in int number;\nout vec4 output_color;\nvoid main(void) {\n" +
    "    output_color = vec4(number & 255, (number >> 8) & 255, number >> 16, 255) / 255.0;\n}");
  const FLOATS = 9; // of a corner: its place, what it faces, its colour
  const array = gl.createVertexArray(), buffer = gl.createBuffer(), indices = gl.createBuffer();
  const drawElements = gl.drawElements.bind(gl); // before anybody takes it over
  let corners = 0;

  function program(vertex, fragment) {
    const made = gl.createProgram();
    for (const [kind, source] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]]) {
      const shader = gl.createShader(kind);
      gl.shaderSource(shader, source);
      gl.compileShader(shader);
      gl.attachShader(made, shader);
    }
    ["pos", "normal", "color"].forEach((name, place) => gl.bindAttribLocation(made, place, name));
    gl.linkProgram(made);
    const places = ["viewMatrix", "projMatrix", "light_pos", "light_color", "light_ambient"].map((name) => [name, gl.getUniformLocation(made, name)]);
    return { made, at: Object.fromEntries(places) };
  }

  function look({ made, at }, { viewMatrix, projMatrix }) {
    gl.useProgram(made);
    gl.uniformMatrix4fv(at.viewMatrix, false, viewMatrix);
    gl.uniformMatrix4fv(at.projMatrix, false, projMatrix);
  }

  /* Every corner of the things on the bench, and three of them for each triangle. What a thing's data holds is VPython's affair: its
     place, axis, up, size and colour in fours. */
  function joined(things) {
    const points = new Float32Array(FLOATS * things.reduce((sum, [, shape]) => sum + shape.pos.length / 3, 0)), index = [];
    let first = 0;
    for (const [data, shape] of things) {
      const { pos, normal, color } = shape;
      const x = norm(data.subarray(4, 7)), y = norm(data.subarray(8, 11)), z = cross(x, y), [a, b, c] = data.subarray(12, 15);
      const turned = (target, u, v, w) => {
        for (let k = 0; k < 3; k++) points[target + k] = x[k] * u + y[k] * v + z[k] * w;
      };
      for (const corner of shape.index) index.push(first + corner);
      for (let from = 0; from < pos.length; from += 3, first++) {
        const target = FLOATS * first;
        turned(target, a * pos[from], b * pos[from + 1], c * pos[from + 2]);
        turned(target + 3, normal[from] / a, normal[from + 1] / b, normal[from + 2] / c);
        for (let k = 0; k < 3; k++) {
          points[target + k] += data[k];
          points[target + 6 + k] = color[from + k] * data[16 + k];
        }
      }
    }
    return { points, index };
  }

  /* For each triangle, 1 where a point of it is seen. */
  function seen({ points, index }, eye, width, height) {
    const places = new Float32Array(3 * index.length);
    for (let k = 0; k < places.length; k++) places[k] = points[FLOATS * index[Math.floor(k / 3)] + k % 3];
    const frame = gl.createFramebuffer(), parts = [gl.createRenderbuffer(), gl.createRenderbuffer()];
    gl.bindFramebuffer(gl.FRAMEBUFFER, frame);
    [[gl.RGBA8, gl.COLOR_ATTACHMENT0], [gl.DEPTH_COMPONENT24, gl.DEPTH_ATTACHMENT]].forEach(([kind, where], k) => {
      gl.bindRenderbuffer(gl.RENDERBUFFER, parts[k]);
      gl.renderbufferStorage(gl.RENDERBUFFER, kind, width, height);
      gl.framebufferRenderbuffer(gl.FRAMEBUFFER, where, gl.RENDERBUFFER, parts[k]);
    });
    gl.viewport(0, 0, width, height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    look(numbered, eye);
    gl.bindVertexArray(array);
    gl.bufferData(gl.ARRAY_BUFFER, places, gl.STREAM_DRAW);
    gl.vertexAttribPointer(0, 3, gl.FLOAT, false, 0, 0);
    for (const place of [1, 2]) gl.disableVertexAttribArray(place);
    gl.drawArrays(gl.TRIANGLES, 0, index.length);
    const pixels = new Uint8Array(4 * width * height), found = new Uint8Array(index.length / 3 + 1);
    gl.readPixels(0, 0, width, height, gl.RGBA, gl.UNSIGNED_BYTE, pixels);
    for (let k = 0; k < pixels.length; k += 4) found[pixels[k] + 256 * pixels[k + 1] + 65536 * pixels[k + 2]] = 1;
    for (const part of parts) gl.deleteRenderbuffer(part);
    gl.deleteFramebuffer(frame);
    gl.bindFramebuffer(gl.FRAMEBUFFER, null);
    return found.subarray(1); // 0: where there is nothing
  }

  /** Make the mesh anew, of `things`: VPython's data and the shape of each. */
  function make(things, eye, width, height) {
    const program = gl.getParameter(gl.CURRENT_PROGRAM), all = joined(things);
    gl.bindVertexArray(array);
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    gl.enableVertexAttribArray(0);
    const places = new Map(), index = []; // of the corners that are used, in the order in which they are
    seen(all, eye, width, height).forEach((isSeen, triangle) => {
      for (let k = 3 * triangle; isSeen && k < 3 * triangle + 3; k++) {
        const corner = all.index[k];
        if (!places.has(corner)) places.set(corner, places.size);
        index.push(places.get(corner));
      }
    });
    const points = new Float32Array(FLOATS * places.size);
    for (const [corner, place] of places) points.set(all.points.subarray(FLOATS * corner, FLOATS * (corner + 1)), FLOATS * place);
    gl.bufferData(gl.ARRAY_BUFFER, points, gl.STATIC_DRAW);
    for (const place of [0, 1, 2]) {
      gl.enableVertexAttribArray(place);
      gl.vertexAttribPointer(place, 3, gl.FLOAT, false, 4 * FLOATS, 12 * place);
    }
    gl.bindBuffer(gl.ELEMENT_ARRAY_BUFFER, indices);
    gl.bufferData(gl.ELEMENT_ARRAY_BUFFER, new Uint32Array(index), gl.STATIC_DRAW);
    gl.bindVertexArray(null);
    gl.useProgram(program);
    corners = index.length;
  }

  function draw(uniforms) {
    const program = gl.getParameter(gl.CURRENT_PROGRAM);
    look(lit, uniforms);
    gl.uniform4fv(lit.at.light_pos, uniforms.light_pos);
    gl.uniform3fv(lit.at.light_color, uniforms.light_color);
    gl.uniform3fv(lit.at.light_ambient, uniforms.light_ambient);
    gl.bindVertexArray(array);
    drawElements(gl.TRIANGLES, corners, gl.UNSIGNED_INT, 0);
    gl.bindVertexArray(null);
    gl.useProgram(program);
  }

  const norm = (v) => v.map((part) => part / Math.hypot(...v));
  const cross = ([a, b, c], [d, e, f]) => [b * f - c * e, c * d - a * f, a * e - b * d];

  return { make, draw };
};
