// worker.js is the start of a worker: one long job off the page's thread. The
// site's file of this name begins with wasm_exec.js, so that a worker is one
// file, needs no importScripts and works offline.
//
// The page posts one message, {module, name, in}: the compiled program that it
// runs itself, and the job. The program finds its job in dusklineJob, posts
// what it has to say and ends. The page ends the worker.
"use strict";
self.onmessage = async (e) => {
  self.onmessage = null;
  const { module, ...job } = e.data;
  self.dusklineJob = job;
  let text = "ended";
  try {
    const go = new Go();
    go.exit = (code) => { text = "exit code " + code; };
    await go.run(await WebAssembly.instantiate(module, go.importObject));
  } catch (x) {
    text = String(x);
  }
  self.postMessage({ kind: "died", text }); // after a result nobody listens any more
};
