// Timings as ratios against references of the same run: machines differ, ratios less. Nothing here fails a build.
import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { setup } from './setup.mjs';
import { pagesOf, typstIn } from './typst.mjs';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
setup();
// On a fresh clone they are there only now.
const { load } = await import('js-yaml');
const { LineCounter, parseDocument } = await import('yaml');
const module = (name) => import(pathToFileURL(path.join(root, 'dist', name)).href);
const { memoryWorld } = await module('world/memory.js');
const { realWorld } = await module('world/real.js');
const { loadLibrary } = await module('library/library.js');
const { checkLibrary } = await module('compile.js');
const { LiveLibrary } = await module('live-library.js');
const { parse } = await module('syntax/parse.js');
const { compileJob } = await module('job/compile-job.js');
const { baySheet } = await module('layout/bay-sheet.js');
const { papersOf } = await module('emit/outputs.js');
const { openFaces } = await module('emit/pdf/fonts.js');
const { pdfOf } = await module('emit/pdf/pdf.js');
const { readFonts } = await module('world/fonts.js');
const { cheapestCover } = await module('resolve/parts/cover.js');
const { shortestSchedule } = await module('resolve/labour/schedule.js');
const { tighteningOrder } = await module('resolve/torque/sequence.js');
const { D } = await module('quantity/units.js');

const bin = path.join(root, 'bin/baywright.js');
const place = fs.mkdtempSync(path.join(os.tmpdir(), 'baywright-bench-'));
process.env.BAYWRIGHT_CACHE = path.join(place, 'cache');
const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const timed = (work, times = 5) =>
  median(
    Array.from({ length: times }, () => {
      const start = performance.now();
      work();
      return performance.now() - start;
    }),
  );
const run = (args, cwd) => () => void spawnSync(process.execPath, args, { cwd });
/**
 * Takes several works in turn, so that what slows the machine for a while slows all of them.
 * @returns how long the first takes as a multiple of the second, both by name: the median of the rounds, or the first of them
 */
const inTurn = (works, times = 5) => {
  const rounds = Array.from({ length: times }, () =>
    Object.fromEntries(Object.entries(works).map(([name, work]) => [name, timed(work, 1)])),
  );
  return (a, b, of = median) => ratio(of(rounds.map((round) => round[a] / round[b])), 1);
};
/** Nothing is compiled yet. */
const cold = ([first]) => first;
const bare = run(['-e', '0']);
const forget = () => fs.rmSync(process.env.BAYWRIGHT_CACHE, { recursive: true, force: true });
const row = (what, value) => console.log(`${what.padEnd(74)} ${value}`);
/** Some kilometres more in an order, on all its paper. */
const driveOn = (order) =>
  fs.writeFileSync(
    order,
    fs.readFileSync(order, 'utf8').replace(/^odometer: \d+/m, (was) => `odometer: ${Number(was.slice(10)) + 7}`),
  );
const ratio = (a, b) => `${(a / b).toFixed(2)} ×`;
const exponent = ([n, a], [m, b]) => (Math.log(b / a) / Math.log(m / n)).toFixed(2);

const shipped = {};
for (const name of fs.readdirSync(path.join(root, 'procedures')).filter((one) => one.endsWith('.yaml')))
  shipped[`/shipped/${name}`] = fs.readFileSync(path.join(root, 'procedures', name), 'utf8');
const demo = (name) => fs.readFileSync(path.join(root, 'examples', name), 'utf8');
/**
 * A shop with many copies of one procedure: of usual size (57 steps), the same with a sentence at each step, or the largest of
 * the demo (134 steps, in two branches).
 */
const shapes = {
  usual: { name: 'clutch', vehicle: 'marn-20', parts: 'marn', with: [] },
  wordy: { name: 'clutch', vehicle: 'marn-20', parts: 'marn', with: [], says: 'Look at it from above and from beneath first.' },
  large: {
    name: 'head-gasket',
    vehicle: 'tarrock-35',
    parts: 'tarrock',
    with: ['intake-ducts-off', 'injectors-out', 'undertray-off', 'belt-end-open', 'timing-belt-off'],
  },
};
/** The text of its procedure. */
const textOf = ({ name, says }) => {
  const text = demo(`procedures/${name}.yaml`);
  return says ? text.replace(/^( *)- [a-z-]+: .*\n(?! *says)/gm, (step, indent) => `${step}${indent}  says: ${says}\n`) : text;
};
const texts = (count, shape = shapes.usual) => {
  const { name, vehicle, parts, with: others } = shape;
  const all = {
    ...shipped,
    '/shop/shop.yaml': demo('shop.yaml'),
    [`/shop/vehicles/${vehicle}.yaml`]: demo(`vehicles/${vehicle}.yaml`),
    [`/shop/parts/${parts}.yaml`]: demo(`parts/${parts}.yaml`),
  };
  for (const other of others) all[`/shop/procedures/${other}.yaml`] = demo(`procedures/${other}.yaml`);
  const text = textOf(shape);
  for (let n = 0; n < count; n++) all[`/shop/procedures/x/copy-${n}.yaml`] = text.replace(`id: ${name}`, `id: ${name}-${n}`);
  return all;
};
const onDisk = (count) => {
  const folder = path.join(place, `shop-${count}`);
  for (const [name, text] of Object.entries(texts(count))) {
    if (!name.startsWith('/shop/')) continue;
    const file = path.join(folder, name.slice('/shop/'.length));
    fs.mkdirSync(path.dirname(file), { recursive: true });
    fs.writeFileSync(file, text);
    fs.utimesSync(file, new Date(Date.now() - 3_600_000), new Date(Date.now() - 3_600_000));
  }
  return folder;
};

console.log('Start, whole processes, against bare node');
const one = path.join(place, 'one.yaml');
fs.writeFileSync(one, 'kind: preparation\nid: one\nname: One\nsteps:\n  - inspect: leaks\n');
{
  const against = inTurn(
    {
      bare,
      version: run([bin, '--version'], place),
      anew: run([bin, 'check', one, '--no-cache'], place),
      unchanged: run([bin, 'check', one], place),
      demo: run([bin, 'check', '--no-cache'], path.join(root, 'examples')),
    },
    9,
  );
  row('--version', against('version', 'bare'));
  row('check of one file, everything anew (--no-cache)', against('anew', 'bare'));
  row('check of one file, unchanged', against('unchanged', 'bare'));
  row('check of the demo, 58 files and 12 jobs, everything anew', against('demo', 'bare'));
}

console.log('\nPaper, bay sheets of the demo, tagged');
{
  const library = loadLibrary(realWorld, path.join(root, 'examples'), path.join(root, 'procedures'), []);
  const faces = openFaces(readFonts(path.join(root, 'dist/fonts')));
  const jobs = [...library.jobs.values()].map((job) => compileJob(library, job));
  const print = (job) => {
    const paper = baySheet(job, faces.measure);
    pdfOf(paper, faces, { date: job.date, author: 'bench', keywords: '' });
    return paper;
  };
  const papers = [];
  for (const job of jobs) papers.push(print(job));
  const memory = [];
  let pages = 0;
  const start = performance.now();
  for (let n = 0; n < 1000; n++) {
    pages += print(jobs[(n * 7) % jobs.length]).pages.length;
    if (n % 250 === 249) memory.push(process.memoryUsage().rss / 1e6);
  }
  const rate = (pages / (performance.now() - start)) * 1000;
  row('pages a second over a batch of 1,000, one thread', rate.toFixed(0));
  row('memory after 250, 500, 750 and 1,000', `${memory.map((one) => one.toFixed(0)).join(', ')} MB`);
  const typst = typstIn(path.join(place, 'typst'), path.join(root, 'dist/fonts'));
  if (typeof typst === 'string') row('against Typst', `not measured: ${typst}`);
  else {
    const typstRate = typst.rateOf(papers);
    row('the same sheets in Typst, pages a second', typstRate.toFixed(0));
    row('pages a second against Typst', ratio(rate, typstRate));
  }
  const shop = path.join(place, 'shop');
  fs.cpSync(path.join(root, 'examples'), shop, { recursive: true });
  for (const [says, id] of [
    ['a usual job', '2042-hub-bearing'],
    ['the largest job of the demo', '2041-head-gasket'],
  ]) {
    const job = jobs.find((one) => one.id === id);
    const sheets = Array.from(papersOf(job, faces.measure, { format: 'pdf', workings: false, after: null }), ({ paper }) => paper);
    console.log(`\nBuild of ${says}, six papers of ${pagesOf(sheets)} pages, whole process`);
    const build = [bin, 'build', id, '--out', path.join(place, 'out')];
    const alone = [...build, '--paper', 'bay-sheet'];
    const order = path.join(shop, `jobs/${id}.yaml`);
    const afterChange = (args) => () => {
      driveOn(order);
      run(args, shop)();
    };
    const afterRemark = () => {
      fs.appendFileSync(order, '# changed\n');
      run(build, shop)();
    };
    const works = {
      bare,
      changed: afterChange(build),
      remark: afterRemark,
      again: run(build, shop),
      sheetChanged: afterChange(alone),
      sheetAgain: run(alone, shop),
    };
    row('the very first on a machine, against bare node', inTurn({ bare, forget, first: run(build, shop) })('first', 'bare'));
    if (typeof typst !== 'string') {
      const { folder, one, all } = typst.commands(id, sheets);
      Object.assign(works, { one: run(one, folder), all: run(all, folder) });
    }
    const against = inTurn(works, 9);
    row('unchanged, against bare node', against('again', 'bare'));
    row('after a remark in its order, which changes no paper, against bare node', against('remark', 'bare'));
    row('after a change of its order, against bare node', against('changed', 'bare'));
    if (typeof typst === 'string') continue;
    row('unchanged, against Typst for the same six', against('again', 'all'));
    row('after a change of its order, against Typst for the same six', against('changed', 'all'));
    row('its bay sheet alone, unchanged, against Typst for the same', against('sheetAgain', 'one'));
    row('its bay sheet alone, after a change of its order, against Typst', against('sheetChanged', 'one'));
  }
  const build = run([bin, 'build', '--out', path.join(place, 'all')], shop);
  build();
  console.log('');
  row(
    `build of all ${jobs.length} jobs of the demo, as they were, whole process, against bare node`,
    inTurn({ bare, build })('build', 'bare'),
  );
}

for (const [says, shape] of [
  ['of usual size', shapes.usual],
  ['of usual size with a sentence at each step', shapes.wordy],
  ['of the largest kind', shapes.large],
]) {
  const size = (textOf(shape).length / 1000).toFixed(1);
  console.log(`\nCheck of 2,000 procedures ${says} (${size} KB) in memory, everything anew`);
  const all = texts(2000, shape);
  const files = Object.entries(all).map(([name, text]) => ({ path: name, text }));
  const against = inTurn(
    {
      read: () => void files.map((file) => parse({ ...file })),
      load: () => void files.map(({ text }) => load(text)),
      yaml: () => void files.map(({ text }) => parseDocument(text, { lineCounter: new LineCounter() }).toJS()),
      check: () => checkLibrary(loadLibrary(memoryWorld(all), '/shop', '/shipped')),
    },
    7,
  );
  row('against reading them as the tool does with js-yaml (values and places)', against('check', 'read'));
  row("against that parser's own `load` (values alone)", against('check', 'load'));
  row("against `yaml`'s parseDocument with line counter and toJS", against('check', 'yaml'));
  row(
    'the same in the first round, before the engine has compiled it',
    `${against('check', 'read', cold)}, ${against('check', 'yaml', cold)}`,
  );
  row('reading with the parser used, against `yaml`', against('read', 'yaml'));
}

for (const [says, ofOrder] of [
  [
    'each another, and so each compiled',
    (text, n) => `${text}access: [{ operation: clutch/driveshafts, factor: ${1 + (n + 1) / 10_000}, reason: rust }]\n`,
  ],
  ['alike but for whose they are', (text) => text],
]) {
  console.log(`\nCheck of 2,000 job orders in memory, ${says}, everything anew`);
  const all = texts(0);
  all['/shop/procedures/clutch.yaml'] = demo('procedures/clutch.yaml');
  const text = demo('jobs/2047-clutch.yaml');
  const orders = Array.from({ length: 2000 }, (_, n) => ofOrder(text.replace('id: 2047-clutch', `id: order-${n}`), n));
  for (const [n, order] of orders.entries()) all[`/shop/jobs/order-${n}.yaml`] = order;
  const read = timed(() => void orders.map((order) => parseDocument(order, { lineCounter: new LineCounter() }).toJS()), 3);
  const check = timed(() => checkLibrary(loadLibrary(memoryWorld(all), '/shop', '/shipped')), 3);
  row("against `yaml`'s parseDocument with line counter and toJS", ratio(check, read));
  row('each', `${(check / orders.length).toFixed(2)} ms`);
}

console.log('\nCheck of 500 procedures, each for 20 vehicles, in memory, everything anew');
for (const [says, ofProfile] of [
  ['whose profiles are alike, against the same for one', (text) => text],
  [
    'that differ in a torque that each comes to, against the same for one',
    (text, n) => text.replace('torque: 65 N·m', `torque: ${50 + n} N·m`),
  ],
]) {
  const one = texts(500);
  const { [`/shop/vehicles/${shapes.usual.vehicle}.yaml`]: profile } = one;
  const ids = Array.from({ length: 20 }, (_, n) => `vehicle-${n}`);
  const all = Object.fromEntries(
    Object.entries(one).map(([name, text]) => [
      name,
      name.startsWith('/shop/p') ? text.replace(/^for: .*$/m, `for: [${ids.join(', ')}]`) : text,
    ]),
  );
  for (const [n, id] of ids.entries()) all[`/shop/vehicles/${id}.yaml`] = ofProfile(profile.replace(/^id: .*$/m, `id: ${id}`), n);
  const check = (library) => () => checkLibrary(loadLibrary(memoryWorld(library), '/shop', '/shipped'));
  row(says, inTurn({ one: check(one), all: check(all) }, 3)('all', 'one'));
}

console.log('\nCheck of 10,000 files on disk');
{
  const folder = onDisk(10_000);
  row('first time, whole process, against bare node', inTurn({ bare, forget, anew: run([bin, 'check'], folder) }, 3)('anew', 'bare'));
  row('unchanged, whole process, against bare node', inTurn({ bare, unchanged: run([bin, 'check'], folder) }, 7)('unchanged', 'bare'));
  {
    let n = 0;
    const other = path.join(folder, 'procedures/x/copy-700.yaml');
    const text = fs.readFileSync(other, 'utf8');
    const changed = () => {
      fs.writeFileSync(other, `${text}# ${n++}\n`);
      spawnSync(process.execPath, [bin, 'check'], { cwd: folder });
    };
    row('one file changed, whole process, against bare node', inTurn({ bare, changed }, 7)('changed', 'bare'));
    fs.mkdirSync(path.join(folder, 'jobs'));
    fs.writeFileSync(path.join(folder, 'jobs/one.yaml'), demo('jobs/2047-clutch.yaml').replace('[clutch]', '[clutch-7]'));
    const build = run([bin, 'build', '2047-clutch', '--out', path.join(place, 'out')], folder);
    const afterChange = () => {
      driveOn(path.join(folder, 'jobs/one.yaml'));
      build();
    };
    row('build of one job in it after a change of its order, against bare node', inTurn({ bare, afterChange })('afterChange', 'bare'));
    // The time of a file that was written this moment does not tell yet whether it changes.
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 2100);
    build();
    row('the same, unchanged', inTurn({ bare, build })('build', 'bare'));
  }
  const live = new LiveLibrary(realWorld, folder, path.join(root, 'procedures'), path.join(folder, 'out'));
  live.look();
  /** The editor waits for the file in hand, and looks at what depends on it while nobody types. */
  const seen = (name, change) => {
    const file = path.join(folder, name);
    const text = fs.readFileSync(file, 'utf8');
    let n = 0;
    return timed(() => {
      fs.writeFileSync(file, n++ % 2 ? text : change(text));
      live.happened({ path: file, moved: false });
      live.look({ first: (one) => one.file.path === name, enough: () => true });
    }, 41);
  };
  for (const [what, name, change] of [
    ['one file changed', 'procedures/x/copy-500.yaml', (text) => text.replace('close-up:', '# changed\nclose-up:')],
    ['one file broken while it is typed', 'procedures/x/copy-500.yaml', (text) => text.replace('close-up:', 'close-up: [')],
    ['the catalogue changed', 'parts/marn.yaml', (text) => `${text}# changed\n`],
    ['the profile changed, on which all files depend', 'vehicles/marn-20.yaml', (text) => `${text}# changed\n`],
  ]) {
    const again = seen(name, change);
    row(`${what}, as the editor sees it`, `${again.toFixed(0)} ms, ${ratio(again, timed(bare))}`);
  }
  fs.rmSync(folder, { recursive: true });
}

console.log('\nGrowth: exponent of the time over the size (1 is in proportion)');
{
  const counts = [100, 1000, 4000, 20_000];
  const times = counts.map((count) => {
    const all = texts(count);
    return [count, timed(() => checkLibrary(loadLibrary(memoryWorld(all), '/shop', '/shipped')), count > 4000 ? 1 : 3)];
  });
  for (const [index, [count, time]] of times.entries())
    row(
      `check of ${count} files`,
      `${(time / count).toFixed(2)} ms a file${index > 0 ? `, exponent ${exponent(times[index - 1], [count, time])}` : ''}`,
    );
}

console.log('\nSolvers, from the size of a shop to ten times as much, and the exponent of their time over it');
let seed = 1;
const random = () => {
  seed = (seed * 16807) % 2147483647;
  return seed / 2147483647;
};
const grown = (what, sizes, work) => {
  const times = sizes.map((size) => {
    const make = work(size);
    make();
    return [size, timed(make, 9)];
  });
  const [first] = times;
  const each = times.map(([size, time]) => `${size}: ${time.toFixed(2)} ms`).join(', ');
  row(what, `${each}; exponent ${exponent(first, times.at(-1))}`);
};
grown('cheapest cover of so many lines, with a fifth as many kits', [20, 60, 200], (items) => {
  const demand = new Map(Array.from({ length: items }, (_, n) => [`i${n}`, 1 + Math.floor(random() * 8)]));
  const price = Array.from({ length: items }, () => Math.round(100 + random() * 5000));
  const offers = [...demand.keys()].map((item, n) => ({ id: `s${n}`, price: new D(price[n]), contains: new Map([[item, 1]]) }));
  for (let k = 0; k < items / 5; k++) {
    const contains = new Map(Array.from({ length: 5 }, () => [`i${Math.floor(random() * items)}`, 1 + Math.floor(random() * 3)]));
    const alone = [...contains].reduce((sum, [item, n]) => sum + n * price[Number(item.slice(1))], 0);
    offers.push({ id: `k${k}`, price: new D(Math.round(alone * (0.8 + random() * 0.25))), contains });
  }
  return () => cheapestCover(demand, offers);
});
grown('shortest schedule of so many operations for two', [6, 18, 60], (count) => {
  const tasks = Array.from({ length: count }, (_, n) => ({
    id: `t${n}`,
    active: 5 + ((n * 7) % 30),
    passive: n % 4 === 0 ? 20 : 0,
    persons: n % 6 === 5 ? 2 : 1,
    after: n > 2 ? [`t${n - 1 - (n % 3)}`] : [],
  }));
  return () => shortestSchedule(tasks, 2);
});
grown('tightening order of so many bolts', [32, 96, 320], (count) => {
  const positions = Array.from({ length: count }, (_, n) => [(n % 20) * 40, Math.floor(n / 20) * 50]);
  return () => tighteningOrder('centre-out', count, positions);
});

fs.rmSync(place, { recursive: true, force: true });
