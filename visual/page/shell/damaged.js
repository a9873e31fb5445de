/* In a page that is one file, before all else in it: a file that has lost its end, or in which something was altered, says so. */
"use strict";

window.tellDamaged = function () {
  document.body.classList.remove("blank");
  document.body.textContent = "This file is damaged, so it cannot be shown: copy or download it again.";
};
document.addEventListener("DOMContentLoaded", () => {
  if (!window.begun) window.tellDamaged(); // what begins it stands last in the file (one-file.js)
});
