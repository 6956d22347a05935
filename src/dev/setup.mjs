// Makes a fresh clone ready: installs what package-lock.json says (no install scripts) and builds.
// Does nothing that is already done. Plain Node, since nothing is installed when it runs first.
import { execFileSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const stamp = path.join(root, 'node_modules/.package-lock.json');

function newest(folder) {
  let time = 0;
  for (const entry of fs.readdirSync(folder, { withFileTypes: true })) {
    const full = path.join(folder, entry.name);
    if (entry.name === 'generated') continue;
    time = Math.max(time, entry.isDirectory() ? newest(full) : fs.statSync(full).mtimeMs);
  }
  return time;
}

const lock = fs.statSync(path.join(root, 'package-lock.json')).mtimeMs;

/** Installs the packages, where that is not done yet. */
export function install() {
  if (!fs.existsSync(stamp) || fs.statSync(stamp).mtimeMs < lock) {
    console.error('Installing packages (npm ci --ignore-scripts) …');
    const npm = process.env.npm_execpath;
    const command = npm ? [process.execPath, [npm]] : [process.platform === 'win32' ? 'npm.cmd' : 'npm', []];
    execFileSync(command[0], [...command[1], 'ci', '--ignore-scripts', '--no-audit', '--no-fund'], { cwd: root, stdio: ['ignore', 2, 2] });
    fs.utimesSync(stamp, new Date(), new Date());
  }
}

export function setup() {
  install();
  const built = path.join(root, 'dist/fonts/LICENSE');
  const sources = Math.max(newest(path.join(root, 'src')), newest(path.join(root, 'schemas')), lock);
  if (!fs.existsSync(built) || fs.statSync(path.join(root, 'dist')).mtimeMs < sources) {
    console.error('Building …');
    execFileSync(process.execPath, [path.join(root, 'src/dev/build.mjs')], { cwd: root, stdio: ['ignore', 2, 2] });
    fs.utimesSync(path.join(root, 'dist'), new Date(), new Date());
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) setup();
