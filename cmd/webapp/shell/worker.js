// The worker: unpacks the engine, then answers one question after another.
let ready;
const started = new Promise((done) => { ready = done; });
self.stopcardReady = () => ready();

// The engine is compiled while it is being unpacked, unless the page has it compiled.
async function start(packed, compiled) {
  const go = new Go();
  let instance;
  if (compiled) {
    instance = await WebAssembly.instantiate(compiled, go.importObject);
  } else {
    const wasm = packed.stream().pipeThrough(new DecompressionStream("gzip")), type = { headers: { "Content-Type": "application/wasm" } };
    const made = await WebAssembly.instantiateStreaming(new Response(wasm, type), go.importObject);
    instance = made.instance;
    try { self.postMessage({ compiled: made.module }); } catch { /* not to be handed on here */ }
  }
  go.run(instance).finally(() => self.postMessage({ ended: true }));
  await started;
}

let turn, current = 0;
const unwanted = new Set();

async function answer({ id, question, args, files }) {
  if (unwanted.delete(id)) {
    self.postMessage({ id, error: "stopped", stopped: true });
    return;
  }
  if (files) given.put(files);
  if (question === "clear") given.clear();
  current = id;
  const got = await new Promise((done) => self.stopcard(question, JSON.stringify(args || {}), done));
  current = 0;
  self.postMessage({ id, ...got }, got.bytes ? [got.bytes.buffer] : []);
}

self.onmessage = ({ data }) => {
  if (data.packed) turn = start(data.packed, data.compiled);
  else if (data.stop && data.stop === current) self.stopcardStop();
  else if (data.stop) unwanted.add(data.stop);
  else turn = turn.then(() => answer(data)).catch((problem) => { self.postMessage({ id: data.id, error: String(problem) }); });
};
