// A million inputs of all kinds; CI takes a sample of each. Prints what vitest prints; SEED=n makes others.
import { spawnSync } from 'node:child_process';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { setup } from './setup.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
setup();
const { status } = spawnSync(process.execPath, [path.join(root, 'node_modules/vitest/vitest.mjs'), 'run', 'tests/fuzz.test.ts'], {
  cwd: root,
  stdio: 'inherit',
  env: { ...process.env, FUZZ: process.env.FUZZ ?? '1000000' },
});
process.exitCode = status ?? 2;
