// The demo: sets up, checks the demo shop, makes its paper, and names each file made.
import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { setup } from './setup.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
setup();

const run = (...args) => {
  const { status } = spawnSync(process.execPath, [path.join(root, 'bin/baywright.js'), ...args], { cwd: root, stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 2);
};

console.log('Checking the demo shop in examples/ …');
run('check', 'examples', '--max-warnings', '0');
console.log('\nMaking its paper …');
run('build', 'examples', '--format', 'both', '--out', 'out');
console.log('\nOpen out/2041-head-gasket/bay-sheet.pdf first; job.html beside it is the same for a phone in the bay.');
