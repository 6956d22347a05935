// Libraries of shapes that no shop has: each is answered, in the user's words, in bounded time.
import path from 'node:path';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { githubReporter } from '../src/cli/reporters/github.js';
import { jsonReporter } from '../src/cli/reporters/json.js';
import { junitReporter } from '../src/cli/reporters/junit.js';
import { sarifReporter } from '../src/cli/reporters/sarif.js';
import { terminalReporter } from '../src/cli/reporters/terminal.js';
import { checkLibrary } from '../src/compile.js';
import { outputsOf } from '../src/emit/outputs.js';
import { openFaces } from '../src/emit/pdf/fonts.js';
import { baselineText, newSince, readBaseline } from '../src/findings/baseline.js';
import { applyFixes } from '../src/findings/fixes.js';
import { compileJob } from '../src/job/compile-job.js';
import { readDocument } from '../src/library/document.js';
import { D } from '../src/quantity/units.js';
import { cheapestCover } from '../src/resolve/parts/cover.js';
import { supersession } from '../src/resolve/parts/supersession.js';
import { limits } from '../src/syntax/limits.js';
import { readFonts } from '../src/world/fonts.js';
import { demoTexts, libraryOf, projectFolder } from './helpers/shop.js';

/** A hundred times what it takes: only what never ends is stopped here. */
const patience = 60_000;

const faces = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));
const demo = demoTexts();
const basic = Object.fromEntries(Object.entries(demo).filter(([name]) => name.startsWith('/shipped/') || /shop\.yaml$|marn/.test(name)));
const preparation = (id: string, needs: readonly string[]): string =>
  `kind: preparation\nid: ${id}\nname: ${id}\nfor: marn-20\nneeds: [${needs.join(', ')}]\nsteps:\n  - inspect: leaks\n`;
const rulesIn = (texts: Readonly<Record<string, string>>): Record<string, number> => {
  const count: Record<string, number> = {};
  for (const { rule, severity } of checkLibrary(libraryOf(texts))) if (severity !== 'info') count[rule] = (count[rule] ?? 0) + 1;
  return count;
};
const changed = (name: string, from: string, to: string): Record<string, string> => {
  const text = demo[name];
  if (!text?.includes(from)) throw new Error(`${name} has no “${from}”`);
  return { ...demo, [name]: text.replace(from, () => to) };
};

describe('needs', () => {
  it(
    'a chain of five thousand is refused once, where it is longer than a hundred',
    () => {
      const texts: Record<string, string> = { ...basic };
      for (let n = 0; n < 5000; n++) texts[`/shop/procedures/c${n}.yaml`] = preparation(`c${n}`, n > 0 ? [`c${n - 1}`] : []);
      expect(rulesIn(texts)).toEqual({ 'reference/too-many-needs': 1 });
    },
    patience,
  );

  /** Thirty layers of two, each needing both below: a thousand million ways down. */
  const diamonds = (bottom: readonly string[]): Record<string, string> => {
    const texts: Record<string, string> = { ...basic };
    for (let layer = 0; layer < 30; layer++)
      for (const side of ['a', 'b'])
        texts[`/shop/procedures/${side}${layer}.yaml`] = preparation(
          `${side}${layer}`,
          layer > 0 ? [`a${layer - 1}`, `b${layer - 1}`] : bottom,
        );
    texts['/shop/procedures/top.yaml'] =
      'kind: procedure\nid: top\nname: Top\nfor: marn-20\nneeds: [a29, b29]\nlabour:\n  look: { says: look, time: 1 h }\nsteps:\n  - inspect: leaks\n';
    texts['/shop/jobs/one.yaml'] = 'kind: job\nid: one\ndate: "2026-11-25"\nvehicle: marn-20\nplate: "AB 12"\nwork: [top]\n';
    return texts;
  };

  it(
    'that meet again and again below are done once',
    () => {
      const texts = diamonds([]);
      expect(rulesIn(texts)).toEqual({});
      const library = libraryOf(texts);
      const job = library.jobs.get('one');
      const compiled = job && compileJob(library, job);
      expect(compiled?.steps).toHaveLength(61);
      expect(compiled?.labour.operations).toHaveLength(1);
    },
    patience,
  );

  it(
    'that all lead to one circle: it is told once',
    () => {
      const texts = diamonds(['round']);
      texts['/shop/procedures/round.yaml'] = preparation('round', ['and-round']);
      texts['/shop/procedures/and-round.yaml'] = preparation('and-round', ['and-on', 'round']);
      texts['/shop/procedures/and-on.yaml'] = preparation('and-on', ['round']);
      const findings = checkLibrary(libraryOf(texts)).filter((one) => one.rule === 'reference/circle');
      expect(findings.map((one) => one.message)).toEqual([expect.stringContaining('in a circle: and-on → round → and-round → and-on.')]);
    },
    patience,
  );
});

describe('parts', () => {
  it(
    'three thousand numbers, each superseding the one before, lead to the last',
    () => {
      const offers = Array.from({ length: 3000 }, (_, n) => ({ number: `n${n}`, supersedes: n > 0 ? [`n${n - 1}`] : [] }));
      const { old, circles } = supersession(offers);
      expect([old.size, new Set(old.values()), circles]).toEqual([2999, new Set(['n2999']), []]);
    },
    patience,
  );

  it(
    'six thousand offers in the catalogue of one job',
    () => {
      const items = Array.from({ length: 6000 }, (_, n) => `  x${n}: { name: Thing ${n} }\n`).join('');
      const offers = Array.from({ length: 6000 }, (_, n) => `  - { number: "Z-${n}", contains: { x${n}: 1 }, price: ${n % 90}.50 }\n`).join(
        '',
      );
      expect(rulesIn(changed('/shop/parts/marn.yaml', 'offers:\n', `${items}offers:\n${offers}`))).toEqual({});
    },
    patience,
  );
});

describe('catalogues', () => {
  it(
    'three thousand that offer the same for one vehicle',
    () => {
      const texts = { ...demo };
      const text = demo['/shop/parts/marn.yaml'] ?? '';
      for (let n = 0; n < 3000; n++) texts[`/shop/parts/m${n}.yaml`] = text.replace(/^id: .*$/m, `id: m${n}`);
      expect(rulesIn(texts)).toEqual({});
    },
    patience,
  );

  it('hundreds of kits that overlap: a cover that is proved, or how much cheaper another may be', () => {
    let seed = 1;
    const random = (below: number) => {
      seed = (seed * 16807) % 2147483647;
      return seed % below;
    };
    const items = 40;
    const demand = new Map(Array.from({ length: items }, (_, n) => [`i${n}`, 1 + random(8)]));
    const prices = Array.from({ length: items }, () => 100 + random(5000));
    const offers = prices.map((price, n) => ({ id: `s${n}`, price: new D(price), contains: new Map([[`i${n}`, 1]]) }));
    for (let kit = 0; kit < 2000; kit++) {
      const contains = new Map(Array.from({ length: 5 }, () => [`i${random(items)}`, 1 + random(3)]));
      const alone = [...contains].reduce((all, [item, count]) => all + count * (prices[Number(item.slice(1))] ?? 0), 0);
      offers.push({ id: `k${kit}`, price: new D(Math.round((alone * (800 + random(250))) / 1000)), contains });
    }
    const result = cheapestCover(demand, offers);
    if (!result.ok) throw new Error('these offers cover everything');
    const { buy, doubt, cost } = result.cover;
    const bought = new Map<string, number>();
    for (const { id, count } of buy)
      for (const [item, pieces] of offers.find((one) => one.id === id)?.contains ?? [])
        bought.set(item, (bought.get(item) ?? 0) + pieces * count);
    for (const [item, count] of demand) expect(bought.get(item), item).toBeGreaterThanOrEqual(count);
    // Much cheaper than piece by piece, and nothing is more than a tenth cheaper.
    const alone = prices.reduce((all, price, n) => all + price * (demand.get(`i${n}`) ?? 0), 0);
    expect(Number(cost)).toBeLessThan(alone * 0.95);
    expect(doubt).toBeGreaterThan(0);
    expect(doubt).toBeLessThan(0.1);
    // As many as ten shops have are proved.
    const few = cheapestCover(demand, offers.slice(0, items + 40));
    expect(few.ok && few.cover.doubt).toBe(0);
  });
});

describe('names that nobody knows', () => {
  const slips = (from: string) => from.replace('of', 'fo');
  it(
    'five thousand needs that are one slip off, each with the one that was meant',
    () => {
      const texts: Record<string, string> = { ...basic };
      for (let n = 0; n < 5000; n++) texts[`/shop/procedures/c${n}.yaml`] = preparation(`prep-of-${n}`, [slips(`prep-of-${n}`)]);
      const found = checkLibrary(libraryOf(texts)).filter(({ severity }) => severity === 'error');
      expect(found.length).toBe(5000);
      for (const { message, span, fix } of found) {
        const meant = /prep-of-\d+/.exec(span.file.text)?.[0] ?? '';
        expect(message).toContain(`Did you mean \`${meant}\`?`);
        expect(fix?.edits[0]?.text).toBe(meant);
      }
    },
    patience,
  );

  it(
    'four thousand parts that are several slips off, in one profile',
    () => {
      const parts = Array.from({ length: 4000 }, (_, n) => `  part-of-it-${n}: { behind: [prat-fo-ti-${n}] }\n`).join('');
      expect(rulesIn({ ...basic, '/shop/vehicles/v.yaml': `kind: vehicle\nid: v\nname: V\nparts:\n${parts}` })).toEqual({
        'reference/unknown-in-profile': 4000,
      });
    },
    patience,
  );
});

it(
  'a thousand operations in one work',
  () => {
    const operations = Array.from({ length: 1000 }, (_, n) => `  op${n}: { says: op ${n}, time: ${5 + (n % 30)} min, after: [] }\n`).join(
      '',
    );
    expect(rulesIn(changed('/shop/procedures/clutch.yaml', 'labour:\n', `labour:\n${operations}`))).toEqual({});
  },
  patience,
);

it(
  'a quarter of a million findings',
  () => {
    const texts: Record<string, string> = { ...basic };
    const lines = Array.from({ length: 400 }, (_, n) => `  i${n}: { name: Thing, colour: red }\n`).join('');
    for (let n = 0; n < 625; n++) texts[`/shop/parts/c${n}.yaml`] = `kind: parts\nid: c${n}\nname: C${n}\nitems:\n${lines}`;
    expect(rulesIn(texts)['schema/unknown-key']).toBe(250_000);
  },
  patience,
);

/** What a machine writes wrongly, it writes wrongly in each line. To find the next mistake must not take longer than to find the one before. */
it.each([
  ['a key that is none', 'kind: preparation\nid: x\nname: X\nsteps:\n', '  - inpect: leaks\n', 'schema/unknown-key'],
  ['a number for a text', 'kind: preparation\nid: x\nname: X\nsteps:\n', '  - inspect: 5\n', 'yaml/needs-quotes'],
  ['a decimal comma', 'kind: preparation\nid: x\nname: X\nsteps:\n', '  - fill: { oil: 4,5 L }\n', 'schema/wrong-type'],
  ['the same key', 'kind: parts\n', 'name: C\n', 'yaml/duplicate-key'],
  ['the same key, in one line', 'kind: parts\nmore: {', ' name: C,', 'yaml/duplicate-key'],
  ['the same key, with ends of lines of long ago', 'kind: parts\r', 'name: C\r', 'yaml/duplicate-key'],
  ['a bracket that closes nothing', 'kind: parts\n', ']', 'yaml/syntax'],
  ['brackets behind brackets', 'kind: parts\nname: ', '[]', 'yaml/syntax'],
  ['quotes behind quotes', 'kind: parts\nname: ', '""', 'yaml/syntax'],
  ['an escape that is none', 'kind: parts\nname: "', '\\q', 'yaml/syntax'],
  ['a quote that is not closed', '', 'name: "C\n', 'yaml/syntax'],
  ['a wide colon', '', 'name： C\n', 'yaml/lookalike'],
  ['a long dash', 'kind: parts\nitems:\n', '– thing\n', 'yaml/lookalike'],
  ['a mark of version control', 'kind: parts\n', '<<<<<<< HEAD\n', 'yaml/syntax'],
  ['a character that cannot be seen', '', '\u200b', 'yaml/control-character'],
])(
  'two megabytes with %s in each line',
  (_, head, line, rule) => {
    for (const size of [150_000, 600_000, 1_990_000]) {
      const text = head + line.repeat(Math.floor((size - head.length) / line.length));
      const { findings, document } = readDocument({ path: 'x.yaml', text }, false);
      expect(document).toBeNull();
      if (size === 150_000) expect(findings.map((one) => one.rule)).toContain(rule);
      expect(findings.length).toBeGreaterThan(0);
      expect(findings.length).toBeLessThan(20_000);
    }
  },
  patience,
);

describe.each([
  ['in a line each', '\n  '],
  ['in one line', ' '],
])('thousands of findings of one file, %s', (_, between) => {
  const things = `a: { name: x },${between}`.repeat(40_000);
  const text = `kind: parts\nid: a\nname: A\nitems: { ${things}b: { name: x } }\noffers: []\n`;
  const { findings } = readDocument({ path: 'a.yaml', text }, false);

  it.each(Object.entries({ githubReporter, jsonReporter, junitReporter, sarifReporter, terminalReporter }))(
    'are written by the %s',
    (_, reporter) => {
      expect(findings.length).toBeGreaterThanOrEqual(limits.mistakes);
      const written = [...reporter({ findings, files: 1 }, { colour: false })].join('');
      expect(written.split('yaml/duplicate-key').length).toBeGreaterThan(limits.mistakes);
    },
    patience,
  );

  it(
    'are kept in a baseline, and known from it',
    () => {
      const known = readBaseline(JSON.parse(baselineText(findings)));
      expect(newSince(findings, known ?? new Set())).toEqual([]);
    },
    patience,
  );
});

it('a million characters that cannot be seen are taken out at once', () => {
  const text = `kind: parts\n# ${'a\u200b'.repeat(900_000)}`;
  const { files, count } = applyFixes(readDocument({ path: 'x.yaml', text }, false).findings);
  expect([count, files[0]?.text === text.replaceAll('\u200b', '')]).toEqual([1, true]);
});

it('fixes in any order: those that touch none before them are made, and the text between is as it was', () => {
  const edit = fc.record({ start: fc.nat(60), length: fc.nat(6), text: fc.stringMatching(/^[a-z]{0,4}$/) });
  fc.assert(
    fc.property(fc.array(fc.array(edit, { minLength: 1, maxLength: 3 }), { maxLength: 12 }), (fixes) => {
      const file = { path: 'x.yaml', text: 'abcdefghijklmnopqrstuvwxyz'.repeat(3) };
      const findings = fixes.map((edits) => ({
        rule: 'x',
        severity: 'error' as const,
        message: '',
        span: { file, start: 0, end: 0 },
        fix: { title: '', edits: edits.map(({ start, length, text }) => ({ span: { file, start, end: start + length }, text })) },
      }));
      // Second witness: each with each, and one cut after the other from behind.
      const made: { start: number; end: number; text: string }[] = [];
      let count = 0;
      for (const { fix } of findings) {
        const all = fix.edits.map(({ span, text }) => ({ start: span.start, end: span.end, text }));
        if (all.some((one, n) => all.some((other, m) => n !== m && one.start <= other.end && other.start <= one.end))) continue;
        if (all.some((one) => made.some((other) => one.start <= other.end && other.start <= one.end))) continue;
        made.push(...all);
        count++;
      }
      const sound = findings.filter(({ fix }) =>
        fix.edits.every((one, n) =>
          fix.edits.every((other, m) => n === m || one.span.start > other.span.end || other.span.start > one.span.end),
        ),
      );
      let text = file.text;
      for (const one of made.sort((a, b) => b.start - a.start)) text = text.slice(0, one.start) + one.text + text.slice(one.end);
      const applied = applyFixes(sound);
      expect([applied.count, applied.files[0]?.text ?? file.text]).toEqual([count, text]);
    }),
    { numRuns: 2000, seed: 1 },
  );
});

const each = (count: number, line: (n: number) => string): string => Array.from({ length: count }, (_, n) => line(n)).join('');
const bigVehicle = (parts: string): string =>
  `kind: vehicle\nid: big\nname: Big\nmass: 1490 kg\nfacing: left, right, top, bottom\nparts:\n${parts}`;

it(
  'ninety preparations of two hundred parts each, on one way in',
  () => {
    const texts: Record<string, string> = {
      ...basic,
      '/shop/vehicles/big.yaml': bigVehicle(each(18_000, (n) => `  p${n}: { name: part ${n} }\n`)),
    };
    for (let n = 0; n < 90; n++)
      texts[`/shop/procedures/n${n}.yaml`] =
        `kind: preparation\nid: n${n}\nname: Way ${n}\nsteps:\n${each(200, (m) => `  - remove: p${n * 200 + m}\n`)}close-up:\n${each(200, (m) => `  - fit: p${n * 200 + 199 - m}\n`)}`;
    texts['/shop/procedures/top.yaml'] =
      `kind: procedure\nid: top\nname: Top\nfor: big\nneeds: [${each(90, (n) => `${n > 0 ? ', ' : ''}n${n}`)}]\nsteps:\n  - inspect: leaks\n`;
    expect(rulesIn(texts)).toEqual({});
  },
  patience,
);

it(
  'more than a thousand gaskets and blind holes in one work, and a list of more steps than anybody takes',
  () => {
    const part = (n: number) => `  p${n}: { name: part ${n}, fasteners: g${n} }\n`;
    const group = (n: number) =>
      `  g${n}: { thread: M8x1.25, class: "8.8", count: 4, drive: 10 AF, reuse: always, threads: dry, blind-hole: true, gasket: true, sequence: star, stages: [{ torque: 22 N·m }] }\n`;
    const work = (count: number) => ({
      ...basic,
      '/shop/vehicles/big.yaml': `${bigVehicle(each(count, part))}fasteners:\n${each(count, group)}`,
      '/shop/procedures/top.yaml': `kind: procedure\nid: top\nname: Top\nfor: big\nsteps:\n${each(count, (n) => `  - remove: p${n}\n`)}${each(count, (n) => `  - fit: p${count - 1 - n}\n`)}${each(count, (n) => `  - tighten: p${n}\n`)}`,
    });
    expect(rulesIn(work(1200))).toMatchObject({ 'parts/no-seal-decision': 1200, 'fastener/blind-hole': 1200 });
    expect(rulesIn(work(1700))).toMatchObject({ 'schema/out-of-range': 1 });
  },
  patience,
);

it('as much of a fluid as a lorry carries, in packs of odd sizes', () => {
  const packs = [
    ['a', 1, 1.1],
    ['b', 7, 5.3],
    ['c', 333, 200],
    ['d', 1000, 520],
    ['e', 20_000, 9900],
  ] as const;
  const offers = packs.map(([id, pieces, price]) => ({ id, price: new D(price), contains: new Map([['oil', pieces]]) }));
  const bought = (millilitres: number) => {
    const result = cheapestCover(new Map([['oil', millilitres]]), offers);
    return result.ok ? [Number(result.cover.cost), ...result.cover.buy.map(({ id, count }) => `${count} ${id}`)] : null;
  };
  expect(bought(200_001)).toEqual([99_001.1, '10 e', '1 a']);
  expect(bought(100_000_000)).toEqual([49_500_000, '5000 e']);
});

it.each([
  ['shop.yaml', 'validity: 30 d', 'validity: 99999999 d', 'quantity/out-of-range'],
  ['vehicles/marn-20.yaml', 'gives: 1.9 ±0.1 L', 'gives: 99999999 ±0.1 L', 'quantity/out-of-range'],
  ['vehicles/marn-20.yaml', 'positions: [[0, 190]', 'positions: [[0, 1e300]', 'schema/out-of-range'],
  ['shop.yaml', 'paper: A4', 'paper: []', 'schema/wrong-type'],
])('%s with %s as %s is refused in words, and a draft is printed all the same', (file, from, to, rule) => {
  const texts = changed(`/shop/${file}`, from, to);
  const library = libraryOf(texts);
  expect(checkLibrary(library).map((one) => one.rule)).toContain(rule);
  const job = library.jobs.get('2047-clutch');
  const printed = job && compileJob(library, job, { draft: true });
  if (!printed) throw new Error('the job does not compile');
  const outputs = outputsOf(printed, faces, { format: 'both', workings: true, after: null });
  expect(outputs.size).toBeGreaterThan(8);
});

it(
  'every job of the demo is printed with its workings',
  () => {
    const library = libraryOf(demo);
    for (const job of library.jobs.values()) {
      const printed = compileJob(library, job);
      const outputs = printed && outputsOf(printed, faces, { format: 'both', workings: true, after: 3 });
      expect(outputs?.has('bay-sheet.pdf'), job.id).toBe(true);
    }
  },
  patience,
);

it('names with signs that mean something elsewhere are refused as names', () => {
  for (const name of ['(', '[a', '.*', '\\\\', '^$', '{1}', '__proto__']) {
    const texts = changed(
      '/shop/procedures/gearbox-fluid.yaml',
      'measurements:\n',
      `measurements:\n  ${JSON.stringify(name)}: { name: gap, unit: mm }\n`,
    );
    expect(Object.keys(rulesIn(texts))).toContain('schema/wrong-form');
  }
});

describe('text that a pattern could choke on', () => {
  it.each([
    ['an allowance', `# baywright: allow a/b${'\t'.repeat(5000)}#${'\t'.repeat(5000)}x\n`.repeat(50)],
    ['allowances of nothing, one below the other', '# baywright: allow step/in-words — so it is\n'.repeat(20_000)],
    ['a remark', `# ${'-'.repeat(500_000)}:\n`],
  ])(
    '%s',
    (_, text) => {
      const name = '/shop/procedures/clutch.yaml';
      expect(Object.keys(rulesIn({ ...demo, [name]: `${demo[name]}${text}` })).filter((rule) => !rule.startsWith('control/'))).toEqual([]);
    },
    patience,
  );
  it.each([
    ['digits and a comma', `0,0${'0'.repeat(200_000)} L`],
    ['spaces', `1 ${' '.repeat(200_000)}( L`],
  ])(
    'a quantity of %s',
    (_, text) => {
      expect(rulesIn(changed('/shop/vehicles/marn-20.yaml', 'capacity: 2.1 L', `capacity: ${JSON.stringify(text)}`))).toHaveProperty([
        'quantity/unreadable',
      ]);
    },
    patience,
  );
});

it('an allowance without a dash gives no reason, and is told how to', () => {
  const from = '  # baywright: allow step/in-words the book has it\n  - inspect: leaks\n';
  expect(rulesIn(changed('/shop/procedures/clutch.yaml', 'steps:\n', `steps:\n${from}`))).toEqual({ 'control/no-reason': 1 });
});

it('a unit, an agent and a parameter that are called as what every object inherits are words like others', () => {
  for (const name of ['__proto__', 'constructor', 'toString', 'hasOwnProperty']) {
    expect(rulesIn(changed('/shop/vehicles/marn-20.yaml', 'capacity: 2.1 L', `capacity: 2.1 ${name}`))).toHaveProperty([
      'quantity/unknown-unit',
    ]);
    const steps = `  - lubricate: boot\n    agent: ${name}\n  - inspect: $${name}\n`;
    const parts = `parts: { boot: { name: boot, material: [epdm, ${name}] } }\n`;
    const text = `kind: procedure\nid: odd\nname: Odd\nfor: marn-20\nlabour: { look: { says: look, time: 1 h } }\n${parts}steps:\n${steps}`;
    expect(rulesIn({ ...basic, '/shop/procedures/odd.yaml': text })).toHaveProperty(['reference/unknown-parameter']);
  }
});

it('an operation and a waiting time that are called constructor are names like others', () => {
  const shape = (file: string, from: RegExp, to: string) => {
    const text = demo[file] ?? '';
    expect(text).toMatch(from);
    return checkLibrary(libraryOf({ ...demo, [file]: text.replace(from, to) }));
  };
  const said = (findings: readonly { message: string; severity: string }[]) => findings.map(({ message }) => message).join('\n');
  expect(said(shape('/shipped/engine-cold.yaml', /^labour:\n {2}[\w-]+:/m, 'labour:\n  constructor:'))).toContain(
    'engine-cold/constructor',
  );
  expect(said(shape('/shop/procedures/clutch.yaml', /^steps:\n/m, 'steps:\n  - wait: constructor\n'))).toContain(
    'no waiting time `constructor`',
  );
});
