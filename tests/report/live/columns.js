// The columns that the kernel's module computes for a record, as hexadecimal bytes of their numbers. Run as it stands by
// Node.js (run.mjs) and by a browser (live_test.py).
async function columns(module, record, setting, size, stations) {
  let kernel;
  const { instance } = await WebAssembly.instantiate(module, {
    page: { fail(at, length) { throw new Error(new TextDecoder().decode(new Uint8Array(kernel.memory.buffer, at, length))); } },
    wasi_snapshot_preview1: { fd_close: () => 8, fd_seek: () => 8, fd_write: () => 8 },
  });
  kernel = instance.exports;
  kernel._initialize();
  const at = kernel.trammel_space(record.length);
  new Uint8Array(kernel.memory.buffer, at, record.length).set(record);  // its memory may just have grown
  kernel.trammel_take();
  const count = kernel.trammel_compute(setting, size, stations, 0);
  const answer = new Float64Array(kernel.memory.buffer, kernel.trammel_answer(), count), [rows, number] = answer;
  return Array.from({ length: number }, (_, c) => {
    const column = Float64Array.from(answer.subarray(2 + c * rows, 2 + (c + 1) * rows));
    return Array.from(new Uint8Array(column.buffer), (byte) => byte.toString(16).padStart(2, "0")).join("");
  });
}
