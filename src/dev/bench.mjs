// Timings as ratios against references of the same run: machines differ, ratios less. Nothing here fails a build.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { LineCounter, parseDocument } from 'yaml';
import { setup } from './setup.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
setup();
const module = (name) => import(pathToFileURL(path.join(root, 'dist', name)).href);
const { memoryWorld } = await module('world/memory.js');
const { loadLibrary } = await module('library/library.js');
const { checkLibrary } = await module('compile.js');
const { cheapestCover } = await module('resolve/parts/cover.js');
const { shortestSchedule } = await module('resolve/labour/schedule.js');
const { tighteningOrder } = await module('resolve/torque/sequence.js');
const { D } = await module('quantity/units.js');

const bin = path.join(root, 'bin/baywright.js');
const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const timed = (work, times = 5) =>
  median(
    Array.from({ length: times }, () => {
      const start = performance.now();
      work();
      return performance.now() - start;
    }),
  );
const process_ = (...args) => timed(() => spawnSync(process.execPath, args, { cwd: path.join(root, 'examples') }), 7);
const row = (what, value) => console.log(`${what.padEnd(66)} ${value}`);
const ratio = (a, b) => `${(a / b).toFixed(2)} ×`;

console.log('Start, against bare node');
const bare = process_('-e', '0');
row('--version', ratio(process_(bin, '--version'), bare));
row('check of the demo (57 files, 12 jobs)', ratio(process_(bin, 'check'), bare));

const shipped = {};
for (const name of fs.readdirSync(path.join(root, 'procedures')).filter((one) => one.endsWith('.yaml')))
  shipped[`/shipped/${name}`] = fs.readFileSync(path.join(root, 'procedures', name), 'utf8');
const demo = (name) => fs.readFileSync(path.join(root, 'examples', name), 'utf8');
const texts = (count) => {
  const all = {
    ...shipped,
    '/shop/shop.yaml': demo('shop.yaml'),
    '/shop/vehicles/marn-20.yaml': demo('vehicles/marn-20.yaml'),
    '/shop/parts/marn.yaml': demo('parts/marn.yaml'),
  };
  const clutch = demo('procedures/clutch.yaml');
  for (let n = 0; n < count; n++) all[`/shop/procedures/clutch-${n}.yaml`] = clutch.replace('id: clutch', `id: clutch-${n}`);
  return all;
};
console.log('\nCheck in memory, against parsing the same files with the same parser (positions and values)');
const perFile = [];
for (const count of [100, 400, 1600]) {
  const all = texts(count);
  const parse = timed(() => {
    for (const text of Object.values(all)) parseDocument(text, { lineCounter: new LineCounter() }).toJS();
  }, 3);
  const check = timed(() => checkLibrary(loadLibrary(memoryWorld(all), '/shop', '/shipped')), 3);
  perFile.push([count, check / count]);
  row(
    `${count} procedures of ${(all['/shop/procedures/clutch-0.yaml'].length / 1000).toFixed(1)} KB`,
    `${ratio(check, parse)}   ${(check / count).toFixed(2)} ms a file`,
  );
}
const exponent = (a, b) => Math.log((b[1] * b[0]) / (a[1] * a[0])) / Math.log(b[0] / a[0]);
row('exponent of growth, 100 to 1600 files', exponent(perFile[0], perFile[2]).toFixed(2));

console.log('\nSolvers, at and beyond the size of a shop, against sorting a million numbers');
const numbers = Array.from({ length: 1_000_000 }, (_, n) => (n * 7919) % 1_000_003);
const sort = timed(() => [...numbers].sort((a, b) => a - b), 3);
let seed = 1;
const random = () => {
  seed = (seed * 16807) % 2147483647;
  return seed / 2147483647;
};
for (const [items, kits] of [
  [20, 4],
  [40, 12],
  [80, 20],
]) {
  const demand = new Map(Array.from({ length: items }, (_, n) => [`i${n}`, 1 + Math.floor(random() * 8)]));
  const price = Array.from({ length: items }, () => Math.round(100 + random() * 5000));
  const offers = [...demand.keys()].map((item, n) => ({ id: `s${n}`, price: new D(price[n]), contains: new Map([[item, 1]]) }));
  for (let k = 0; k < kits; k++) {
    const contains = new Map(Array.from({ length: 5 }, () => [`i${Math.floor(random() * items)}`, 1 + Math.floor(random() * 3)]));
    const alone = [...contains].reduce((sum, [item, n]) => sum + n * price[Number(item.slice(1))], 0);
    offers.push({ id: `k${k}`, price: new D(Math.round(alone * (0.8 + random() * 0.25))), contains });
  }
  row(
    `cheapest cover of ${items} lines with ${kits} kits`,
    ratio(
      timed(() => cheapestCover(demand, offers), 3),
      sort,
    ),
  );
}
for (const count of [10, 20]) {
  const tasks = Array.from({ length: count }, (_, n) => ({
    id: `t${n}`,
    active: 5 + ((n * 7) % 30),
    passive: n % 4 === 0 ? 20 : 0,
    persons: n % 6 === 5 ? 2 : 1,
    after: n > 2 ? [`t${n - 1 - (n % 3)}`] : [],
  }));
  row(
    `shortest schedule of ${count} operations for two`,
    ratio(
      timed(() => shortestSchedule(tasks, 2), 3),
      sort,
    ),
  );
}
const positions = Array.from({ length: 320 }, (_, n) => [(n % 20) * 40, Math.floor(n / 20) * 50]);
row(
  'tightening order of 320 bolts',
  ratio(
    timed(() => tighteningOrder('centre-out', 320, positions), 3),
    sort,
  ),
);

console.log('\nPaper');
const out = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-bench-'));
row('build of one job (cold, all its paper), against bare node', ratio(process_(bin, 'build', '2042-hub-bearing', '--out', out), bare));
fs.rmSync(out, { recursive: true, force: true });
