// Runs a program compiled to WebAssembly: node run.mjs PROGRAM FOLDER ARGUMENT...; it may read the files of the folder.
// Exits as the program does; 70 where it broke off.
import { readFile } from 'node:fs/promises';
import { WASI } from 'node:wasi';

const [program, folder, ...given] = process.argv.slice(2);
const { GTEST_TOTAL_SHARDS, GTEST_SHARD_INDEX } = process.env;
const env = GTEST_TOTAL_SHARDS ? { GTEST_TOTAL_SHARDS, GTEST_SHARD_INDEX } : {};
const wasi = new WASI({ version: 'preview1', args: [program, ...given], env, preopens: { [folder]: folder }, returnOnExit: true });
const module = await WebAssembly.compile(await readFile(program));
const instance = await WebAssembly.instantiate(module, { wasi_snapshot_preview1: wasi.wasiImport });
try {
  process.exitCode = wasi.start(instance);
} catch (broken) {
  console.error(`${program} broke off: ${broken.stack}`);
  process.exitCode = 70;
}
