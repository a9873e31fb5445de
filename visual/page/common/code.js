/* A code to scan: an address for telephones, as the bench has worked it out. */

/** Draw it into an svg with a path; no code hides it. @param {import("./messages.js").Code|null} code */
export function draw(svg, code) {
  svg.toggleAttribute("hidden", code === null);
  if (code === null) return;
  svg.setAttribute("viewBox", `0 0 ${code.size} ${code.size}`);
  svg.querySelector("path").setAttribute("d", code.path);
}
