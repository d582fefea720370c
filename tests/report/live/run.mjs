// Runs the kernel's module: run.mjs MODULE RECORD SETTING SIZE STATIONS prints its columns, a line each.
import { readFileSync } from "node:fs";
import { runInThisContext } from "node:vm";
const [module, record, setting, size, stations] = process.argv.slice(2);
runInThisContext(readFileSync(new URL("columns.js", import.meta.url), "utf8"));
const found = await columns(readFileSync(module), readFileSync(record), Number(setting), Number(size), Number(stations));
console.log(found.join("\n"));
