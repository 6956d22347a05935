// Loaded before the tool: what it asks of the system below a folder fails once, at the n-th time; or somebody saves files then.
const fs = require('node:fs');
const path = require('node:path');

const { FAILS_WITHIN: within, FAILS_AT: at, FAILS_WITH: code, FAILS_COUNT: counted, SAVED: saved, SAVED_FROM: from } = process.env;
const isWithin = (file) => typeof file === 'string' && !path.relative(within, file).startsWith('..');
const asks = ['open', 'read', 'stat', 'lstat', 'readdir', 'realpath', 'readFile'];
const changes = ['write', 'writeFile', 'fsync', 'rename', 'mkdir', 'mkdtemp', 'unlink', 'rmdir', 'rm', 'copyFile', 'cp', 'link', 'utimes', 'chmod'];

const copy = fs.cpSync;
const opened = new Set();
let n = 0;
for (const name of [...asks, ...changes].map((one) => `${one}Sync`)) {
  const real = fs[name];
  fs[name] = (...args) => {
    const isIt = (isWithin(args[0]) || opened.has(args[0])) && ++n === Number(at);
    if (isIt && saved) copy(from, saved, { recursive: true });
    else if (isIt)
      throw Object.assign(new Error(`${code}: ${name} fails here`), { code, syscall: name, path: args[0] });
    const result = real(...args);
    if (name === 'openSync' && isWithin(args[0])) opened.add(result);
    return result;
  };
}
const close = fs.closeSync;
fs.closeSync = (file) => {
  opened.delete(file);
  close(file);
};
process.on('exit', () => {
  if (counted) fs.writeFileSync(counted, String(n));
});
