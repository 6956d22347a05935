// Mutation testing: changes the code in small ways and sees whether a test notices. Its tools are large and needed by
// nobody else, so that they are installed into a copy of the project.
//   npm run mutate -- computing|walk [FILES...]
import { execFileSync, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { setup } from './setup.mjs';

/** What is changed, and the tests that hold it. */
const sets = {
  computing: {
    mutate: ['src/resolve/**/*.ts'],
    tests: ['computing', 'outside/{fasteners,fluids,identity,labour,money,parts,tools}', 'golden'],
  },
  walk: { mutate: ['src/ledger/*.ts', 'src/plan/*.ts'], tests: ['walk', 'plan', 'rules'] },
};
const [name = '', ...files] = process.argv.slice(2);
const set = Object.hasOwn(sets, name) ? sets[name] : null;
if (!set) {
  console.error(`Say what is changed: npm run mutate -- ${Object.keys(sets).join('|')} [FILES...]`);
  process.exit(2);
}

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
setup();
const copy = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-mutate-'));
console.log(`Working in ${copy} …`);
fs.cpSync(root, copy, { recursive: true, filter: (name) => !/[\\/](\.git|out)$/.test(name), verbatimSymlinks: true });
const npm = process.platform === 'win32' ? 'npm.cmd' : 'npm';
const tools = ['@stryker-mutator/core@9.6.1', '@stryker-mutator/vitest-runner@9.6.1'];
execFileSync(npm, ['install', '--no-save', '--ignore-scripts', '--no-audit', '--no-fund', ...tools], { cwd: copy, stdio: 'inherit' });
fs.writeFileSync(
  path.join(copy, 'vitest.mutate.mjs'),
  `export default { test: { include: ${JSON.stringify(set.tests.map((one) => `tests/${one}.test.ts`))}, testTimeout: 60000, hookTimeout: 60000 } };\n`,
);
fs.writeFileSync(
  path.join(copy, 'stryker.conf.json'),
  JSON.stringify({
    testRunner: 'vitest',
    plugins: ['@stryker-mutator/vitest-runner'],
    mutate: files.length > 0 ? files : set.mutate,
    vitest: { configFile: 'vitest.mutate.mjs', related: false },
    coverageAnalysis: 'perTest',
    timeoutMS: 8000,
    ignoreStatic: true,
    reporters: ['clear-text', 'progress-append-only', 'json'],
  }),
);
const { status } = spawnSync(
  process.execPath,
  [path.join(copy, 'node_modules/@stryker-mutator/core/bin/stryker.js'), 'run', 'stryker.conf.json'],
  {
    cwd: copy,
    stdio: 'inherit',
  },
);
console.log(`The report is in ${path.join(copy, 'reports/mutation')}.`);
process.exitCode = status ?? 2;
