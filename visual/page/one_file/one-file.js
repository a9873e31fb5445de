/* Begins a page that is one file (host/recorded/one_file.py): unpacks its scripts and runs them in their order. */
"use strict";

window.begun = true;
(async function () {
  const text = (name) => document.getElementById(`film-${name}`).textContent;
  if (typeof DecompressionStream === "undefined" || !HTMLScriptElement.supports || !HTMLScriptElement.supports("importmap")) {
    document.body.classList.remove("blank");
    document.body.textContent = "This browser is too old for this page: open it in one of 2023 or later.";
    return;
  }
  async function unpacked(name) {
    const packed = Uint8Array.from(atob(text(name)), (sign) => sign.charCodeAt(0));
    const plain = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
    return new Response(plain).json();
  }
  const blob = (code) => URL.createObjectURL(new Blob([code], { type: "text/javascript" }));
  const add = (look) => document.head.append(Object.assign(document.createElement("script"), look));

  window.film = { ...await unpacked("about"), unpacked };
  const code = await unpacked("code");
  for (const one of code.first) add({ textContent: one });
  const at = Object.fromEntries(Object.entries(code.modules).map(([path, body]) => [`thumbwise/${path}`, blob(body)]));
  for (const [path, other] of Object.entries(code.instead)) at[`thumbwise/${path}`] = at[`thumbwise/${other}`];
  window.film.later = async () => blob(await unpacked("later"));
  add({ type: "importmap", textContent: JSON.stringify({ imports: at }) });
  add({ type: "module", textContent: `import "thumbwise/${code.entry}"` });
})().catch(window.tellDamaged);
