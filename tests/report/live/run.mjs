// Runs the kernel's module: run.mjs MODULE RECORD SETTING SIZE STATIONS prints its columns, a line each, as hexadecimal
// bytes of the numbers.
import { readFileSync } from "node:fs";
const [module, record, setting, size, stations] = process.argv.slice(2);
let kernel;
const { instance } = await WebAssembly.instantiate(readFileSync(module), {
  page: { fail(at, length) { throw new Error(Buffer.from(kernel.memory.buffer, at, length).toString()); } },
  wasi_snapshot_preview1: { fd_close: () => 8, fd_seek: () => 8, fd_write: () => 8 },
});
kernel = instance.exports;
kernel._initialize();
const bytes = readFileSync(record);
new Uint8Array(kernel.memory.buffer, kernel.trammel_space(bytes.length), bytes.length).set(bytes);
// The address may lie in memory that had to grow.
kernel.trammel_take();
const count = kernel.trammel_compute(Number(setting), Number(size), Number(stations), 0);
const answer = new Float64Array(kernel.memory.buffer, kernel.trammel_answer(), count);
const [rows, columns] = answer;
for (let c = 0; c < columns; ++c) {
  const column = Float64Array.from(answer.subarray(2 + c * rows, 2 + (c + 1) * rows));
  console.log(Buffer.from(column.buffer).toString("hex"));
}
