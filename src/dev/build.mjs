// Builds the tool: types and validators from schemas/, then TypeScript, then the files that travel with it.
import { spawnSync } from 'node:child_process';
import crypto from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { install } from './setup.mjs';

install();
// On a fresh clone what these need is there only now.
const { makeBundles } = await import('./bundles.mjs');
const { generate } = await import('./generate.mjs');

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const at = (...parts) => path.join(root, ...parts);

await generate(root);
fs.rmSync(at('dist'), { recursive: true, force: true });
const { status } = spawnSync(process.execPath, [at('node_modules/typescript/bin/tsc'), '-p', at('tsconfig.json')], {
  stdio: 'inherit',
  cwd: root,
});
// What is wrong it has said.
if (status !== 0) process.exit(status ?? 1);
fs.mkdirSync(at('dist/schema/generated'), { recursive: true });
for (const file of ['right.cjs', 'validators.cjs']) fs.copyFileSync(at('src/schema/generated', file), at('dist/schema/generated', file));

const bundle = at('dist/bundle');
const { files, carried } = await makeBundles(root, bundle);

// The licences of the packages that the bundles carry.
const licences = carried.map((name) => {
  const folder = at('node_modules', name);
  const { version, license, author } = JSON.parse(fs.readFileSync(path.join(folder, 'package.json'), 'utf8'));
  const files = fs.readdirSync(folder);
  const file = files.find((one) => /^licen[cs]e/i.test(one));
  if (file) return `${name} ${version}${license ? ` (${license})` : ''}\n\n${fs.readFileSync(path.join(folder, file), 'utf8').trim()}\n`;
  if (!license) throw new Error(`${name} is bundled, and nothing says under which licence`);
  return `${name} ${version} (${license})\n\nThe package carries no text of its licence; its package.json says: ${license}, ${author?.name ?? author ?? 'its authors'}.\n`;
});
fs.writeFileSync(path.join(bundle, 'LICENSES.txt'), licences.join(`\n${'-'.repeat(72)}\n\n`));

const fonts = at('node_modules/@expo-google-fonts/ibm-plex-sans');
fs.mkdirSync(at('dist/fonts'), { recursive: true });
fs.copyFileSync(path.join(fonts, 'LICENSE_FONT'), at('dist/fonts/LICENSE'));
const { openFont } = await import(pathToFileURL(at('dist/emit/pdf/fonts.js')));
const { prepare } = await import(pathToFileURL(at('dist/emit/pdf/prepared.js')));
for (const face of ['400Regular', '600SemiBold', '700Bold']) {
  const file = at('dist/fonts', `${face}.ttf`);
  fs.copyFileSync(path.join(fonts, face, `IBMPlexSans_${face}.ttf`), file);
  fs.writeFileSync(at('dist/fonts', `${face}.prepared`), prepare(openFont(fs.readFileSync(file))));
}

// A check looks at a shipped document only where a shop makes something else of it.
const { keepAtBuild } = await import(pathToFileURL(at('dist/cli/known-files.js')));
keepAtBuild();

// What says which build this is, whenever and wherever it was installed: what a check or a build keeps holds for this one alone.
const digest = crypto.createHash('sha256');
const drawnWith = fs.readdirSync(at('dist/fonts')).sort();
for (const file of [...files, at('dist/shipped.json'), ...drawnWith.map((name) => at('dist/fonts', name))])
  digest.update(fs.readFileSync(file));
fs.writeFileSync(path.join(bundle, 'digest.txt'), `${digest.digest('hex')}\n`);

// What the engine makes of the bundles in usual runs, so that the first on this machine need not have it made
// (src/cli/compiled.ts). It holds for this engine and this folder alone, and is not in the package.
const place = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-build-'));
try {
  const inNone = path.join(place, 'coolant-drained.yaml');
  fs.copyFileSync(at('procedures/coolant-drained.yaml'), inNone);
  const order = 'jobs/2042-hub-bearing.yaml';
  const out = ['--out', path.join(place, 'paper')];
  const code = path.join(place, 'code');
  for (const [n, asked] of [['build', order, ...out], ['build', ...out], ['check'], ['check', inNone]].entries()) {
    // Of each shop nothing is known yet, nor is there paper.
    const shop = path.join(place, `shop-${n}`);
    fs.cpSync(at('examples'), shop, { recursive: true, filter: (file) => path.basename(file) !== 'out' });
    spawnSync(process.execPath, [at('bin/baywright.js'), ...asked], { cwd: shop, env: { ...process.env, BAYWRIGHT_CACHE: code } });
  }
  if (fs.existsSync(code)) fs.cpSync(code, at('dist/code'), { recursive: true, filter: (file) => !/\.(json|files|job|paper)$/.test(file) });
} finally {
  fs.rmSync(place, { recursive: true, force: true });
}
