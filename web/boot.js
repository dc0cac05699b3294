// boot.js starts the Go program and the service worker. The page stays free of
// inline script, so everything that differs between two sites comes from the
// data attributes of its own script tag.
//
// It leaves on globalThis:
//   appModule        the compiled program, to be posted to workers
//   appTowns         address of the list of towns, to be loaded on first use
//   appWorker        address of the script that starts one
//   dusklineUpdate   {state, saved, takeOver()}; every change of it fires a
//                    "dusklineUpdate" event on window. The states are "none",
//                    "loading" (a new version is being fetched), "ready" (it is
//                    complete and waits for takeOver), "failed" (it was not
//                    complete; the old one goes on) and "switched" (another
//                    tab did it: takeOver only loads this page anew). saved is
//                    true once the app starts without a network.
//   goapp*           what the Go side calls by these names
"use strict";
(() => {
  const told = document.currentScript.dataset;

  // A file server may be asked for index.html by name. Routes have no such name.
  if (location.pathname.endsWith("/index.html")) {
    history.replaceState(null, "", location.pathname.slice(0, -"index.html".length) + location.search + location.hash);
  }
  const base = new URL(told.base, location.href);
  const prefix = base.pathname.replace(/\/$/, "");

  // The program changes the address without loading a page, and the browser
  // then looks for these anew, from the new address.
  for (const link of document.querySelectorAll("link:not([rel=stylesheet])")) {
    link.setAttribute("href", link.href);
  }

  // Guard: Go's URL parser refuses a stray percent sign after the "#", and the
  // program would end. Escaped, the app can still say that the link is damaged.
  const mend = () => {
    const hash = location.hash.replace(/%(?![0-9a-f]{2})/gi, "%25");
    if (hash !== location.hash) {
      history.replaceState(history.state, "", location.pathname + location.search + hash);
    }
  };
  mend();
  addEventListener("popstate", mend);

  // Guard: the Go side takes every click on a link for one of its routes. The
  // browser keeps the others: telephone, mail, new tab, download.
  document.addEventListener("click", (e) => {
    const a = e.target.closest?.("a");
    if (a && (!/^https?:$/.test(a.protocol) || e.shiftKey || (a.target && a.target !== "_self"))) {
      e.stopPropagation();
    }
  });

  globalThis.appWorker = new URL(told.worker, base).href;
  globalThis.appTowns = new URL(told.towns, base).href;
  const env = {
    GOAPP_VERSION: told.version,
    GOAPP_ROOT_PREFIX: prefix,
    GOAPP_STATIC_RESOURCES_URL: prefix,
    GOAPP_INTERNAL_URLS: "[]",
  };
  let offer = null; // the browser's offer to install the app
  Object.assign(globalThis, {
    goappGetenv: (k) => env[k],
    goappNav() {},
    goappOnUpdate() {},
    goappOnAppInstallChange() {},
    goappIsAppInstalled: () => matchMedia("(display-mode: standalone)").matches || navigator.standalone === true,
    goappIsAppInstallable: () => offer !== null && !goappIsAppInstalled(),
    async goappShowInstallPrompt() {
      const mine = offer;
      offer = null;
      await mine?.prompt();
      goappOnAppInstallChange();
    },
    goappKeepBodyClean: () => () => {},
  });
  addEventListener("beforeinstallprompt", (e) => {
    e.preventDefault();
    offer = e;
    goappOnAppInstallChange();
  });
  addEventListener("appinstalled", () => {
    offer = null;
    goappOnAppInstallChange();
  });

  // The service worker.
  let registration = null;
  let asked = false;
  const update = {
    state: "none",
    saved: false,
    takeOver() {
      if (registration?.waiting) {
        asked = true;
        registration.waiting.postMessage("take-over");
      } else {
        location.reload(); // another tab was faster
      }
    },
  };
  globalThis.dusklineUpdate = update;
  const tell = (change) => {
    Object.assign(update, change);
    dispatchEvent(new CustomEvent("dusklineUpdate", { detail: { ...change } }));
    if (change.state === "ready") {
      goappOnUpdate();
    }
  };
  const follow = (worker, first) => {
    if (!first) {
      tell({ state: "loading" });
    }
    worker.addEventListener("statechange", () => {
      switch (worker.state) {
        case "installed":
          if (!first) tell({ state: "ready" });
          break;
        case "activated":
          if (!update.saved) tell({ saved: true });
          break;
        case "redundant":
          if (!first && update.state === "loading") tell({ state: "failed" });
      }
    });
  };
  const serve = async () => {
    if (!("serviceWorker" in navigator)) {
      return;
    }
    const claimed = navigator.serviceWorker.controller !== null;
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (asked) {
        asked = false;
        location.reload();
      } else if (claimed) {
        tell({ state: "switched" });
      }
    });
    registration = await navigator.serviceWorker.register(new URL("sw.js", base), {
      scope: base.pathname,
      updateViaCache: "none",
    });
    registration.addEventListener("updatefound", () => follow(registration.installing, registration.active === null));
    if (registration.installing) {
      follow(registration.installing, registration.active === null);
    }
    if (registration.active) {
      tell({ saved: true });
    }
    if (registration.waiting && registration.active) {
      tell({ state: "ready" });
    }
    // A phone keeps a page open for days: look again when it comes back, at
    // most once an hour. Without a network the look fails, and that is no news.
    let last = Date.now();
    document.addEventListener("visibilitychange", () => {
      if (document.visibilityState === "visible" && Date.now() - last > 3600e3) {
        last = Date.now();
        registration.update().catch(() => {});
      }
    });
  };

  // The program.
  const say = (id) => {
    document.getElementById("boot-starting")?.remove();
    document.getElementById(id).hidden = false;
  };
  const compile = async (url) => {
    try {
      return await WebAssembly.compileStreaming(fetch(url));
    } catch (x) {
      // An old browser, or a server that does not call it application/wasm.
      const response = await fetch(url);
      if (!response.ok) throw new Error(url + ": " + response.status);
      return WebAssembly.compile(await response.arrayBuffer());
    }
  };
  const start = async () => {
    if (typeof WebAssembly !== "object") {
      say("boot-old");
      return;
    }
    const go = new Go();
    let instance;
    try {
      globalThis.appModule = await compile(new URL(told.wasm, base).href);
      instance = await WebAssembly.instantiate(appModule, go.importObject);
    } catch (x) {
      console.error("duskline:", x);
      say("boot-lost");
      return;
    }
    const run = go.run(instance); // returns at the program's first rest
    if (update.state === "ready") {
      goappOnUpdate();
    }
    // After the program is here, so that the worker finds its files in the
    // browser's cache and a phone does not pay for them twice.
    serve().catch((x) => console.warn("duskline: works only with a network:", x));
    await run.catch((x) => console.error("duskline:", x));
    say("boot-stopped");
  };
  start();
})();
