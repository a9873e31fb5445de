// Loaded before before.js. Without a graphics card a picture's time goes into its triangles, and most of them are iron, magnets and
// boards that stand where they stood. What has not changed for some pictures is put together in one mesh, of those of its triangles
// alone of which anything is seen (seen-mesh.js); then only what moves is drawn piece by piece. The picture is the same as ever: where
// something in the mesh has changed or gone, or the eye has moved, all is drawn as VPython would, in the same frame.
"use strict";

window.standing = (function () {
  const SETTLED = 12; // pictures without a change, of a thing and of the eye, after which a thing is taken in
  const LONGEST = 400; // such pictures at most, for what changes now and then: twice as many each time
  const PAYS = 24; // pictures for which a mesh has to serve
  const REST = 8, LONGEST_REST = 512; // pictures until the next one where it did not: twice as many each time
  const WORTH = 300; // triangles more that a new mesh has to spare

  /** Take over how VPython draws into the page's own buffer; answers with a way to draw a picture, given VPython's own. `isOurs()`:
      whether it is that buffer which is drawn into now; `shapeOf(data)`: the shape of what VPython draws with that data. */
  function over(gl, canvas, programs, isOurs, shapeOf) {
    const own = {}, names = new Map(), uniforms = {}, things = new Map();
    const mesh = window.seenMesh(gl, programs);
    let drawing = false, picture = 0, thing = null, place = null, begun = false;
    let using = false, met = 0, spoilt = false; // whether the mesh is drawn in this picture, how many of its things are, whether one has changed
    let count = 0; // how many things are in it; 0 without one
    let eye = [], steady = 0, meshEye = [], madeIn = 0, rest = 0, spoiltIn = 0;

    for (const name of ["getUniformLocation", "uniform4fv", "drawElements"]) own[name] = gl[name].bind(gl);
    gl.getUniformLocation = (program, name) => {
      const where = own.getUniformLocation(program, name);
      names.set(where, name);
      return where;
    };
    for (const name of ["uniform3fv", "uniform4fv", "uniformMatrix4fv"]) {
      const plain = gl[name].bind(gl);
      gl[name] = (where, ...given) => {
        const values = given[given.length - 1];
        if (drawing && isOurs() && names.get(where) === "objectData") {
          place = where;
          thing = known(values);
          return; // told when it is drawn, if it is
        }
        if (drawing && isOurs()) uniforms[names.get(where)] = values;
        plain(where, ...given);
      };
    }
    gl.drawElements = (kind, corners, ...rest) => {
      if (drawing && isOurs() && thing) {
        if (!begun) begin();
        thing.triangles = corners / 3;
        if (thing.inMesh) {
          met += 1;
          spoilt ||= thing.still === 0;
          if (using) return;
        }
        own.uniform4fv(place, thing.data);
      }
      own.drawElements(kind, corners, ...rest);
    };

    /* What is drawn with these values, and for how many pictures they have been the same. */
    function known(values) {
      let one = things.get(values);
      if (!one) things.set(values, one = { data: values, last: new Float32Array(values.length), still: 0, patience: SETTLED, inMesh: false });
      if (one.picture !== picture) {
        one.still = one.picture === picture - 1 && one.last.every((value, at) => value === values[at]) ? one.still + 1 : 0;
        one.last.set(values);
        one.picture = picture;
      }
      return one;
    }

    /* Before the first thing of a picture: the mesh, if it was made for where the eye is. */
    function begin() {
      begun = true;
      const now = [canvas.width, canvas.height, ...uniforms.viewMatrix, ...uniforms.projMatrix];
      steady = same(now, eye) ? steady + 1 : 0;
      eye = now;
      using = count > 0 && same(eye, meshEye);
      if (using) mesh.draw(uniforms);
    }

    function draw(turn) {
      drawing = true;
      thing = null;
      begun = using = spoilt = false;
      met = 0;
      try {
        turn();
      } finally {
        drawing = false;
      }
    }

    /* Nothing of the mesh is used again; what has changed in it has to stand still for longer until it is taken in once more. */
    function drop() {
      for (const one of things.values()) {
        if (one.inMesh && (one.still === 0 || one.picture !== picture)) one.patience = Math.min(LONGEST, 2 * one.patience);
        one.inMesh = false;
      }
      count = 0;
      rest = picture - madeIn < PAYS ? Math.min(LONGEST_REST, 2 * rest || REST) : 0;
      spoiltIn = picture;
    }

    function renew() {
      const settled = [], here = same(eye, meshEye);
      let more = 0;
      for (const [data, one] of things) {
        if (picture - one.picture > LONGEST) things.delete(data);
        if (one.picture !== picture || one.still < one.patience) continue;
        settled.push(one);
        if (!here || !one.inMesh) more += one.triangles;
      }
      if (steady < SETTLED || more < WORTH || picture - spoiltIn < rest) return;
      const shaped = settled.filter((one) => shapeOf(one.data));
      for (const one of things.values()) one.inMesh = false;
      mesh.make(shaped.map(({ data }) => [data, shapeOf(data)]), uniforms, canvas.width, canvas.height);
      for (const one of shaped) one.inMesh = true;
      count = shaped.length;
      meshEye = eye;
      madeIn = picture;
    }

    return (turn) => {
      picture += 1;
      draw(turn);
      if (spoilt || met < count) {
        drop();
        if (using) draw(turn);
      }
      renew();
    };
  }

  const same = (a, b) => a.length === b.length && a.every((value, at) => value === b[at]);

  return { over };
})();
