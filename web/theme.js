// theme.js gives the page the look of last time before anything is painted.
// The program knows it only after it has opened its storage; until then a page
// in the colours of day would blind eyes that are used to the dark. So this is
// the one script that the page waits for, and it is short.
"use strict";
(() => {
  const root = document.documentElement;
  const bar = document.querySelector("meta[name=theme-color]");
  const key = "duskline look";
  const keep = () => {
    try {
      localStorage.setItem(key, root.dataset.theme + " " + bar.content);
    } catch {
      // Storage is forbidden or full: the look then comes with the program.
    }
  };
  try {
    const was = /^([a-z]+) (#[0-9a-f]{6})$/.exec(localStorage.getItem(key));
    if (was) {
      root.dataset.theme = was[1];
      bar.content = was[2];
    }
  } catch {
    // As above.
  }
  new MutationObserver(keep).observe(root, { attributes: true, attributeFilter: ["data-theme"] });
})();
