// What cannot be read is told where it stands, and nothing that would follow from it elsewhere: one mistake, one finding.
import { expect, it } from 'vitest';
import type { MapEntry, SyntaxNode } from '../src/syntax/node.js';
import { parse } from '../src/syntax/parse.js';
import { checkFor, compileForPaper } from '../src/compile.js';
import { Checker } from '../src/rules/checker.js';
import { demoTexts, found, libraryOf } from './helpers/shop.js';

const texts = demoTexts();
const clean = found(libraryOf(texts)).map(({ place, rule }) => `${place} ${rule}`);

/** Where and what is found besides what is found in the demo as it is. */
const foundWith = (file: string, text: string): string[] =>
  found(libraryOf({ ...texts, [file]: text }))
    .map(({ place, rule }) => `${place} ${rule}`)
    .filter((one) => !clean.includes(one));

const own = Object.keys(texts).filter((file) => file.startsWith('/shop/'));
const notShop = own.filter((file) => !file.endsWith('/shop.yaml'));
const nameOf = (file: string): string => file.slice('/shop/'.length);

it('there is something to break', () => {
  expect(notShop.map(nameOf)).toEqual(expect.arrayContaining(['parts/tarrock.yaml', 'vehicles/sillane-16.yaml', 'jobs/2047-clutch.yaml']));
});

it.each(notShop)('a quote that is not closed in %s is all that is found', (file) => {
  const text = (texts[file] ?? '').replace(/^(\w+): ([^\n{["]*)$/m, '$1: "$2');
  expect(text).not.toBe(texts[file]);
  expect(foundWith(file, text)).toEqual([expect.stringMatching(new RegExp(`^${nameOf(file)}:\\d+ yaml/syntax$`))]);
});

it.each(notShop)('that %s does not say its kind is all that is found', (file) => {
  const text = (texts[file] ?? '').replace(/^kind: .*\n/m, '');
  expect(foundWith(file, text)).toEqual([expect.stringMatching(new RegExp(`^${nameOf(file)}:\\d+ schema/no-kind$`))]);
});

it.each([
  // Tools of the shop: what each is needed for lies in many files.
  ['shop.yaml', 'W-1', 'type: torque-wrench', 'tpye: torque-wrench', 'schema/unknown-key'],
  ['shop.yaml', 'W-1', 'range: ', 'rnage: ', 'schema/unknown-key'],
  ['shop.yaml', 'W-1', '25 N·m, length', '25 Nmq, length', 'quantity/unknown-unit'],
  ['shop.yaml', 'type: angle-gauge', 'type: angle-gauge', 'type: angle-guage', 'schema/unknown-value'],
  ['shop.yaml', 'dial-gauge:', 'type: instrument', 'type: instrumnt', 'schema/unknown-value'],
  ['shop.yaml', 'type: torque-wrench', 'due: ', 'deu: ', 'schema/unknown-key'],
  ['shop.yaml', 'tools:', 'tools:', 'tolls:', 'schema/unknown-key'],
  ['shop.yaml', 'validity:', '30 d', '30', 'quantity/no-unit'],
  ['vehicles/liddel-e.yaml', 'tester-before:', 'name: ', 'nmae: ', 'schema/unknown-key'],
  ['vehicles/liddel-e.yaml', 'proof-dead:', 'name: ', 'nmae: ', 'schema/unknown-key'],
  ['vehicles/liddel-e.yaml', 'tester-after:', 'name: ', 'nmae: ', 'schema/unknown-key'],
  ['vehicles/liddel-e.yaml', 'insulation:', 'name: ', 'nmae: ', 'schema/unknown-key'],
  // Sections of a profile.
  ['vehicles/pellan-estate.yaml', 'parts:', 'parts:', 'part:', 'schema/unknown-key'],
  ['vehicles/osprane-4x4.yaml', 'parts:', 'parts:', 'prats:', 'schema/unknown-key'],
  ['vehicles/sillane-a.yaml', 'fasteners:', 'fasteners:', 'fastners:', 'schema/unknown-key'],
  ['vehicles/sillane-16.yaml', 'features:', 'features:', 'feature:', 'schema/unknown-key'],
  ['vehicles/sillane-16.yaml', 'fluids:', 'fluids:', 'fluid:', 'schema/unknown-key'],
  ['vehicles/tarrock-35.yaml', 'waits:', 'waits:', 'wiats:', 'schema/unknown-key'],
  ['vehicles/pellan-14.yaml', 'wheels-off:', '0.1 h', '0,1 h', 'quantity/decimal-comma'],
  ['vehicles/pellan-14.yaml', 'wheels-off:', '0.1 h', '0.1 hq', 'quantity/unknown-unit'],
  ['vehicles/marn-20.yaml', 'fluids:', 'through:', 'trough:', 'schema/unknown-key'],
  ['vehicles/marn-20.yaml', 'source:', 'document:', 'docment:', 'schema/unknown-key'],
  // Entries of a catalogue.
  ['parts/tarrock.yaml', 'head-bolt:', 'name:', 'nmae:', 'schema/unknown-key'],
  ['parts/sillane.yaml', 'fits:', 'price:', 'prise:', 'schema/unknown-key'],
  ['parts/pellan.yaml', 'PL-3101', '46.00', '46,00', 'quantity/decimal-comma'],
  // Values of which there are a few.
  ['vehicles/marn-20.yaml', 'gearbox-fill-plug:', 'fill-point', 'flil-point', 'schema/unknown-value'],
  ['vehicles/pellan-14.yaml', 'charges:', 'hazard: refrigerant', 'hazard: rferigerant', 'schema/unknown-value'],
  ['vehicles/tarrock-35.yaml', 'exhaust-nuts:', 'heat-cycle', 'haet-cycle', 'schema/unknown-value'],
  ['procedures/coolant-plate.yaml', 'final:', 'on-ground', 'o-nground', 'schema/unknown-value'],
  ['procedures/high-voltage-isolated.yaml', 'steps:', 'insulating-gloves', 'isnulating-gloves', 'schema/unknown-value'],
  ['vehicles/osprane-4x4.yaml', 'axle-fill-plug:', 'role: fill-point', 'role: filler', 'schema/unknown-value'],
  // What a job says.
  ['jobs/2041-head-gasket.yaml', 'features:', 'features:', 'featrues:', 'schema/unknown-key'],
  ['jobs/2041-head-gasket.yaml', 'expect:', 'expect:', 'exepct:', 'schema/unknown-key'],
])('in %s, after %s: `%s` as `%s` is one finding', (name, after, from, to, rule) => {
  const file = `/shop/${name}`;
  const text = texts[file] ?? '';
  const begin = text.indexOf(after);
  const at = text.indexOf(from, Math.max(begin, 0));
  expect(begin >= 0 && at >= 0).toBe(true);
  const line = text.slice(0, at).split('\n').length;
  expect(foundWith(file, text.slice(0, at) + to + text.slice(at + from.length))).toEqual([`${name}:${line} ${rule}`]);
});

it('what is wrong besides is still told: another name that no tool has, another item that nobody declares', () => {
  const shop = (texts['/shop/shop.yaml'] ?? '').replace('type: angle-gauge', 'type: angle-guage').replace('dial-gauge:', 'dial-guage:');
  expect(foundWith('/shop/shop.yaml', shop).filter((one) => one.endsWith('reference/unknown-tool')).length).toBeGreaterThan(0);
  const parts = (texts['/shop/parts/pellan.yaml'] ?? '')
    .replace('hub-bearing: { name:', 'hub-bearing: { nmae:')
    .replace('{ axle-nut: 1 }', '{ axle-nutt: 1 }');
  expect(foundWith('/shop/parts/pellan.yaml', parts).map((one) => one.split(' ')[1])).toEqual(
    expect.arrayContaining(['parts/unknown-item']),
  );
});

it('an empty file hides nothing: it says of nothing that it was meant', () => {
  expect(foundWith('/shop/parts/marn.yaml', '').length).toBeGreaterThan(1);
});

it.each([
  ['quantity/unknown-unit', 'torque: 66 lbf·ft', 'torque: 66 lbq'],
  ['schema/unknown-key', 'torque: 66 lbf·ft', 'trque: 66 lbf·ft'],
  ['yaml/syntax', 'stages: [{ torque: 66 lbf·ft }]', 'stages: [{ torque: 66 lbf·ft }'],
])('%s cannot be allowed: what is not read would be missing on the sheet, or a guess', (rule, from, to) => {
  const file = '/shop/vehicles/pellan-14.yaml';
  const text = (texts[file] ?? '')
    .replace('  knuckle-bolts:', `  # baywright: allow ${rule} — we know it\n  knuckle-bolts:`)
    .replace(from, to);
  expect(text).toContain(to);
  const library = libraryOf({ ...texts, [file]: text });
  const [finding] = found(library).filter((one) => one.rule === rule);
  expect(finding?.message).toMatch(/ This cannot be allowed: /);
  expect(found(library).some((one) => one.rule === 'control/unused')).toBe(false);
  const job = library.jobs.get('2042-hub-bearing');
  if (!job) throw new Error('no job');
  const checked = checkFor(library, [job], new Checker())(job);
  expect(compileForPaper(library, job, checked, { draft: false, drawn: true }).value).toBeNull();
});

it.each([
  ['reference/unknown-need', '/shop/procedures/undertray-off.yaml', 'needs: [coolant-dry]'],
  ['reference/circle', '/shop/procedures/undertray-off.yaml', 'needs: [undertray-off]'],
  ['reference/unknown-work', '/shop/jobs/2047-clutch.yaml', 'work: [clutch, clatch]'],
])('%s cannot be allowed: with it no job can be planned', (rule, file, line) => {
  const key = line.slice(0, line.indexOf(':'));
  const without = (texts[file] ?? '').replace(new RegExp(`^${key}:.*\\n(?: .*\\n)*`, 'm'), '');
  const text = without.replace(/^name:|^customer:/m, (next) => `# baywright: allow ${rule} — we know it\n${line}\n${next}`);
  const [finding] = found(libraryOf({ ...texts, [file]: text })).filter((one) => one.rule === rule);
  expect(finding?.message).toMatch(/ This cannot be allowed: no job that has it could be planned\.$/);
});

it('a draft says of a torque that could not be read that it could not, and gives no other', () => {
  const file = '/shop/vehicles/pellan-14.yaml';
  const library = libraryOf({ ...texts, [file]: (texts[file] ?? '').replace('torque: 66 lbf·ft', 'torque: 66 lbq') });
  const job = library.jobs.get('2042-hub-bearing');
  if (!job) throw new Error('no job');
  const { value } = compileForPaper(library, job, checkFor(library, [job], new Checker())(job), { draft: true, drawn: true });
  const bolts = value?.joints.find(({ group }) => group === 'knuckle-bolts');
  expect(bolts?.stages.map((stage) => stage.value)).toEqual(['? (could not be read)']);
});

it('a variant that nobody has told apart cannot be allowed', () => {
  const file = '/shop/jobs/2046-timing-belt.yaml';
  const text = (texts[file] ?? '')
    .replace(/^features:\n(?: .*\n)+/m, '')
    .replace(/^vehicle:/m, '# baywright: allow variant/not-pinned — looked at later\nvehicle:');
  const told = found(libraryOf({ ...texts, [file]: text }));
  expect(told.filter(({ rule }) => rule === 'variant/not-pinned').map(({ message }) => message)).toEqual([
    expect.stringMatching(/ This cannot be allowed: /),
  ]);
});

it('an item that is offered for a variant alone is missing where nobody says which it is, or the vehicle has no such variant', () => {
  const rulesWith = (more: Readonly<Record<string, string>>) =>
    found(libraryOf({ ...texts, ...more })).map(({ rule, message }) => [rule, message.slice(0, 100)].join(' '));
  const job = '/shop/jobs/2046-timing-belt.yaml';
  const unsaid = (texts[job] ?? '').replace(/^features:\n(?: .*\n)+/m, '');
  expect(unsaid).not.toBe(texts[job]);
  const open = rulesWith({ [job]: unsaid });
  expect(open.some((one) => one.startsWith('variant/not-pinned'))).toBe(true);
  expect(open.filter((one) => one.startsWith('parts/no-offer'))).toEqual([]);
  // For a vehicle without that feature nothing is open: it is not offered.
  const pellan = '/shop/parts/pellan.yaml';
  const fits = (texts[pellan] ?? '')
    .replace('contains: { axle-nut: 1 }, price: 5.40', 'contains: { axle-nut: 1 }, fits: { roof: tall }, price: 5.40')
    .replace(/^.*PL-3110.*\n/m, '');
  expect(rulesWith({ [pellan]: fits }).filter((one) => one.startsWith('parts/no-offer'))).toEqual([expect.stringContaining('axle-nut')]);
});

it('a mistake in a catalogue stops the jobs on its vehicles; all of them where it is for any, or for a vehicle that nobody knows', () => {
  const file = '/shop/parts/marn.yaml';
  const stoppedWhere = (says: string): string[] => {
    const text = (texts[file] ?? '').replace(/^for: .*\n/m, says).replace('price: 388.00', 'price: a lot');
    expect(text).toContain('a lot');
    const library = libraryOf({ ...texts, [file]: text });
    const jobs = [...library.jobs.values()];
    const checked = checkFor(library, jobs, new Checker());
    expect(jobs.length).toBe(12);
    return jobs.filter((job) => checked(job).findings.some(({ span }) => span.file.path === 'parts/marn.yaml')).map(({ id }) => id);
  };
  expect(stoppedWhere('for: marn-20\n')).toEqual(['2047-clutch']);
  expect(stoppedWhere('for: [marn-20, pellan-14]\n')).toEqual(['2042-hub-bearing', '2047-clutch', '2049-receiver']);
  for (const says of ['', 'for: marn-21\n', 'for: [marn-20, marn-21]\n']) expect(stoppedWhere(says)).toHaveLength(12);
});

it('where a document of a job is broken or missing, nothing is told of files that are not its own', () => {
  const [order, others] = ['/shop/jobs/2041-head-gasket.yaml', '/shop/jobs/2043-gearbox-fluid.yaml'];
  const elsewhere = { ...texts, [others]: (texts[others] ?? '').replace(/^odometer: .*$/m, 'odometer: 12 N') };
  const toldWith = (file: string, change: (text: string) => string | null): string[] => {
    const text = change(texts[file] ?? '');
    expect(text).not.toBe(texts[file]);
    const changed = Object.entries({ ...elsewhere, [file]: text }).flatMap(([name, one]) => (one === null ? [] : [[name, one]]));
    const library = libraryOf(Object.fromEntries(changed));
    const job = library.jobs.get('2041-head-gasket');
    if (!job) throw new Error('no job');
    const checked = checkFor(library, [job], new Checker())(job);
    expect(compileForPaper(library, job, checked, { draft: false, drawn: true }).value).toBeNull();
    return checked.findings.flatMap(({ severity, rule, span }) => (severity === 'error' ? [`${span.file.path} ${rule}`] : []));
  };
  expect(toldWith('/shop/procedures/coolant-pump.yaml', (text) => `${text}  - tigthen: pump-bolts\n`)).toEqual([
    'procedures/coolant-pump.yaml schema/unknown-key',
  ]);
  expect(toldWith(order, (text) => text.replace(/^vehicle: .*$/m, 'vehicle: tarock-35'))).toEqual([
    `${nameOf(order)} reference/unknown-vehicle`,
  ]);
  expect(toldWith(order, (text) => text.replace(/^work: .*$/m, 'work: [nothing]'))).toEqual([`${nameOf(order)} reference/unknown-work`]);
  const preparation = '/shop/procedures/injectors-out.yaml';
  for (const change of [() => null, (text: string) => text.replace(/^id: .*$/m, 'id: injector-out')])
    expect(new Set(toldWith(preparation, change))).toEqual(new Set(['procedures/head-gasket.yaml reference/unknown-need']));
});

it('a slip in any key that the schemas know, in each place of the demo, is one finding, and nothing follows from it', () => {
  const seen = new Set<string>();
  let slips = 0;
  for (const [file, text] of Object.entries(texts)) {
    if (!file.startsWith('/shop/')) continue;
    const kind = /^kind: (\w+)/m.exec(text)?.[1] ?? '';
    const { value } = parse({ path: file, text });
    for (const { entry, path } of value ? entriesIn(value, kind) : []) {
      const { key } = entry;
      const slip = `${key.slice(0, 1)}${key.slice(2, 3)}${key.slice(1, 2)}${key.slice(3)}`;
      // What stands below a name that somebody gave is the same below each.
      const shape = path.replace(
        /(?<=\.(parts|fasteners|fluids|measurements|choices|temporaries|charges|items|tools|labour)\.)[\w-]+/,
        '*',
      );
      if (slip === key || seen.has(shape)) continue;
      seen.add(shape);
      // CI takes a third of them; all where `FUZZ` is set.
      if (!process.env.FUZZ && seen.size % 3 > 0) continue;
      const { start, end } = entry.keySpan;
      const told = foundWith(file, text.slice(0, start) + slip + text.slice(end));
      // Names that somebody gave are told where they are used.
      if (!told.some((one) => one.endsWith(' schema/unknown-key'))) continue;
      slips++;
      expect(told, `${slip}: in ${file}`).toEqual([`${nameOf(file)}:${text.slice(0, start).split('\n').length} schema/unknown-key`]);
    }
  }
  expect(slips).toBeGreaterThan(80);
});

it('a slip in a name of a step is one finding, and the step is read as it was meant', () => {
  let slips = 0;
  for (const [file, text] of Object.entries(texts)) {
    if (!file.startsWith('/shop/procedures/')) continue;
    for (const [n, step] of [...text.matchAll(/^ +- [a-z-]+: \[?([a-z][a-z0-9-]{5,})/gm)].entries()) {
      // CI takes a fourth of them; all where `FUZZ` is set.
      if (!process.env.FUZZ && n % 4 > 0) continue;
      const [all, name = ''] = step;
      const slip = `${name.slice(0, 2)}${name.slice(3, 4)}${name.slice(2, 3)}${name.slice(4)}`;
      if (slip === name) continue;
      const end = step.index + all.length;
      const told = foundWith(file, text.slice(0, end - name.length) + slip + text.slice(end));
      // Words of the document itself are known nowhere else.
      if (!told.some((one) => one.endsWith(' reference/unknown-name'))) continue;
      slips++;
      expect(told, `${slip}: in ${file}`).toEqual([`${nameOf(file)}:${text.slice(0, end).split('\n').length} reference/unknown-name`]);
    }
  }
  expect(slips).toBeGreaterThan(40);
});

it('what is read as it was meant is looked at as that, and what somebody allowed is what it says', () => {
  const file = '/shop/procedures/clutch.yaml';
  const withStep = (step: string): string => (texts[file] ?? '').replace('steps:\n', `steps:\n${step}`);
  expect(foundWith(file, withStep('  - remove: stater\n')).map((one) => one.split(' ')[1])).toEqual([
    'reference/unknown-name',
    'ledger/opened-twice',
  ]);
  const allowed = '  # baywright: allow reference/unknown-name — a stater is no starter here\n  - remove: stater\n';
  expect(foundWith(file, withStep(allowed))).toEqual([]);
});

function* entriesIn(node: SyntaxNode, path: string): Iterable<{ readonly entry: MapEntry; readonly path: string }> {
  if (node.kind === 'list') for (const item of node.items) yield* entriesIn(item, path);
  if (node.kind === 'map')
    for (const entry of node.entries) {
      yield { entry, path: `${path}.${entry.key}` };
      yield* entriesIn(entry.value, `${path}.${entry.key}`);
    }
}

it('under a slip what is wrong is told too, and at its place', () => {
  const file = '/shop/vehicles/marn-20.yaml';
  const text = (texts[file] ?? '')
    .replace(/^measurements:/m, 'maesurements:')
    .replace('dial gauge, resolution: 0.1 mm', 'dial gauge, resolutoin: 0.1 mx');
  expect(text).toContain('resolutoin');
  const lines = [/^maesurements:/m, /resolutoin/].map((one) => text.slice(0, text.search(one)).split('\n').length);
  expect(foundWith(file, text)).toEqual([
    `vehicles/marn-20.yaml:${lines[0]} schema/unknown-key`,
    `vehicles/marn-20.yaml:${lines[1]} schema/unknown-key`,
    `vehicles/marn-20.yaml:${lines[1]} quantity/unknown-unit`,
  ]);
});
