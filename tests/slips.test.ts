// Slips of the fingers and habits of other ways of writing, in every line of the demo: each is told in words for people,
// near the line where it was made.
import { describe, expect, it } from 'vitest';
import { renameFix } from '../src/findings/fixes.js';
import { readDocument } from '../src/library/document.js';
import { placeOf, type SourceFile } from '../src/source/source.js';
import { demoTexts, demoWith, found } from './helpers/shop.js';

const texts = Object.values(demoTexts());

/** The documents of the demo with one line changed at a time, where the change makes a difference. */
function* slipped(change: (line: string) => string): Iterable<{ readonly text: string; readonly line: number; readonly written: string }> {
  for (const text of texts) {
    const lines = text.split('\n');
    for (const [n, line] of lines.entries()) {
      const written = change(line);
      if (written !== line && !/^\s*(#|$)/.test(line)) yield { text: lines.with(n, written).join('\n'), line: n + 1, written };
    }
  }
}

const read = (text: string) =>
  readDocument({ path: 'x.yaml', text }, false).findings.map(({ rule, message, span }) => ({
    rule,
    message,
    line: placeOf(span.file, span.start).line,
  }));

/** Words of people who write parsers. */
const jargon = /\b(token|scalar|node|mapping|sequence item|collection|stream|implicit|unexpected|indicator|directive)\b/i;

const slips: readonly (readonly [what: string, change: (line: string) => string, words: RegExp])[] = [
  ['no space behind the dash', (line) => line.replace(/^( *)- (?=[a-z{])/, '$1-'), /begins with one dash and a space|lines with a dash/],
  [
    'no space behind the colon',
    (line) => line.replace(/^( *(?:- )?[a-z][\w-]*:) (?=[^\s[{"])/, '$1'),
    /A space is missing behind the colon|is a verb with its object|must be keys with values/,
  ],
  [
    'numbers in place of dashes',
    (line) => line.replace(/^( *)- (?=\w[\w-]*: )/, '$11. '),
    /begins with one dash and a space|lines with a dash/,
  ],
  [
    'stars in place of dashes',
    (line) => line.replace(/^( *)- (?=\w[\w-]*: )/, '$1* '),
    /begins with one dash and a space|lines with a dash/,
  ],
  [
    'a quote that is not closed',
    (line) => line.replace(/^( *(?:- )?[\w-]+: )(?=\w[^"']*$)/, '$1"'),
    /quote that opens here is not closed|closing quote/,
  ],
  [
    'a bracket that is not closed',
    (line) => line.replace(/[\]}]$/, ''),
    /bracket that opens here is not closed|comma is missing|Inside brackets/,
  ],
  ['a bracket too much', (line) => line.replace(/(?<=[\]}])$/, '}'), /behind the closing bracket|closes what is not open/],
  ['something behind a quote', (line) => line.replace(/(?<=: "[^"]*")$/, ','), /behind the closing quote/],
  ['a line further in', (line) => line.replace(/^(?=(?:id|name|vehicle|revision): \w)/, '  '), /further in|column|dash before/],
  ['a sign that begins no text', (line) => line.replace(/^( *(?:- )?[\w-]+: )(?=\w)/, '$1@'), /cannot start with this sign/],
  ['an ampersand before a text', (line) => line.replace(/^( *(?:- )?[\w-]+: )(?=[a-z])/, '$1& '), /takes for anchors/],
  ['text behind the sign of a block', (line) => line.replace(/^( *(?:- )?[\w-]+: )(?=[a-z][^:]*$)/, '$1|'), /Behind `\|` and `>`/],
];

it.each(slips)('%s', (_, change, words) => {
  let count = 0;
  for (const { text, line, written } of slipped(change)) {
    const [first] = read(text);
    count++;
    expect([written, first?.message]).toEqual([written, expect.stringMatching(words)]);
    expect([written, Math.abs((first?.line ?? 0) - line)]).toEqual([written, expect.toSatisfy((far: number) => far <= 1)]);
  }
  expect(count).toBeGreaterThan(20);
});

it('two versions that version control has left are told at the first of its marks, and nothing else is', () => {
  let count = 0;
  const told = (text: string, line: number) => {
    count++;
    expect([text.split('\n')[line - 1], read(text)]).toEqual([
      expect.stringMatching(/^[<=>|]{7}/),
      [{ rule: 'yaml/syntax', line, message: expect.stringContaining('Version control has left two versions') }],
    ]);
  };
  for (const text of texts)
    for (const [n, line] of text.split('\n').entries()) {
      const lines = text.split('\n');
      told(lines.toSpliced(n, 1, '<<<<<<< HEAD', line, '=======', line, '>>>>>>> of-a-colleague').join('\n'), n + 1);
      told(lines.toSpliced(n, 1, '<<<<<<< HEAD', line, '||||||| base', '=======', line, '>>>>>>> other').join('\r\n'), n + 1);
      told(lines.toSpliced(n, 0, '=======').join('\n'), n + 1);
    }
  expect(count).toBeGreaterThan(5000);
});

it('whatever signs stand in a line, nobody is told in the words of a parser', () => {
  const signs = [
    '"',
    "'",
    '[',
    ']',
    '{',
    '}',
    ',',
    ':',
    '-',
    '- ',
    '? ',
    '| ',
    '> ',
    '& ',
    '&a ',
    '* ',
    '*a ',
    '! ',
    '!a ',
    '% ',
    '@',
    '`',
    '#',
    '\\',
    '"\\q"',
    '\t',
    '---',
    '...',
    '%YAML 1.1',
  ];
  const some = texts.slice(0, 12);
  for (const text of some) {
    const lines = text.split('\n');
    for (const [n, line] of lines.entries())
      for (const [m, sign] of signs.entries()) {
        const at = ((n * 7 + m * 13) % (line.length + 1)) | 0;
        const written = line.slice(0, at) + sign + line.slice(at);
        for (const { rule, message } of read(lines.with(n, written).join('\n')))
          if (rule.startsWith('yaml/')) expect([written, message]).toEqual([written, expect.not.stringMatching(jargon)]);
      }
  }
});

describe('a word that is not one of ours', () => {
  const step = (word: string) =>
    readDocument({ path: 'x.yaml', text: `kind: preparation\nid: one\nname: One\nsteps:\n  - ${word}: cover\n` }, false).findings;

  it.each([
    ['replace', 'renew'],
    ['change', 'renew'],
    ['install', 'fit'],
    ['take-off', 'remove'],
    ['Take Off', 'remove'],
    ['grease', 'lubricate'],
    ['refill', 'fill'],
    ['lift', 'raise'],
    ['block', 'lock'],
    ['text', 'says'],
    ['note', 'says'],
    ['torque', 'tighten'],
    ['cap', 'place'],
    ['prime', 'bleed'],
    ['chock', 'place'],
    ['listen', 'inspect'],
    ['operate', 'test'],
    ['recover', 'drain'],
    ['remove-bolts', 'remove'],
    ['bolt_count', 'count'],
  ])('%s is told with the word for it, and is not made another by --fix', (word, meant) => {
    const [only, ...others] = step(word);
    expect([others, only?.rule, only?.message, only?.fix]).toEqual([
      [],
      'schema/unknown-key',
      expect.stringContaining(`\`${word}\` is not a key of a step. Write \`${meant}\`: `),
      undefined,
    ]);
  });

  it('a word that seems to say the opposite of one of ours is not taken for it', () => {
    expect(step('depressurise').map((one) => one.message)).toEqual([
      '`depressurise` is not a key of a step. Write `open`, `release` or `wait`.',
    ]);
  });

  it.each([
    ['heat', 'Write what it is for, `fit` or `remove`, and how in its `says:`.'],
    ['sand', 'Write what it is for, `clean`, and how in its `says:`.'],
    ['juggle', 'A step is one verb, as `remove`, `fit`, `adjust` or `inspect`, and how in `says:`.'],
  ])('%s, for which there is no verb, is told with what to write', (word, told) => {
    expect(step(word).map((one) => [one.message, one.fix])).toEqual([[expect.stringContaining(told), undefined]]);
  });

  it('a key that belongs to something else is told with what that is', () => {
    const messages = (text: string) => readDocument({ path: 'x.yaml', text }, false).findings.map((one) => one.message);
    const group = 'count: 1, thread: M8, drive: 13 AF, reuse: always, threads: dry, stages: [{ torque: 20 N·m }], seals: { ring: 1 }';
    expect(messages(`kind: vehicle\nid: one\nname: One\nfasteners:\n  nut: { ${group} }\n`)).toEqual([
      '`seals` is not a key of `nut`. It is a key of what stands under `parts`.',
    ]);
    // It is no slip of a key that belongs there, and not mended to one; a slip of one is.
    const found = (key: string) =>
      readDocument({ path: 'x.yaml', text: `kind: vehicle\nid: one\nname: One\nparts:\n  nut: { name: nut, ${key}: [] }\n` }, false)
        .findings;
    expect(found('stages').map(({ message, fix }) => [message.includes('stands under `fasteners`'), fix])).toEqual([[true, undefined]]);
    expect(found('fastners').map(({ message, fix }) => [message.includes('mean `fasteners`'), fix !== undefined])).toEqual([[true, true]]);
    // Most sections have names: that says nothing.
    expect(
      messages('kind: shop\nid: one\nname: One\ncurrency: EUR\nrates: { mechanic: 60.00 }\nsublet: { name: one }\n').join(' '),
    ).not.toContain('stands under');
  });

  it.each([
    [
      'kind: vehicle\nid: one\nname: One\nparts:\n  bag: { name: bag, hazard: airbag }\n',
      '`airbag` is not a value of `hazard`. Write `restraint`.',
    ],
    [
      'kind: vehicle\nid: one\nname: One\nparts:\n  bag: { name: bag, hazard: Air-Bag }\n',
      '`Air-Bag` is not a value of `hazard`. Write `restraint`.',
    ],
    [
      'kind: vehicle\nid: one\nname: One\nparts:\n  bag: { name: bag, hazard: dangerous }\n',
      '`dangerous` is not a value of `hazard`. There are',
    ],
    ['kind: vehicle\nid: one\nname: One\nparts:\n  cap: { name: cap, role: filler cap }\n', 'Write `fill-point`.'],
    ['kind: vehicle\nid: one\nname: One\nparts:\n  tank: { name: tank, hazard: fuel }\n', 'Write `flammable`.'],
    // Either may be meant.
    [
      'kind: vehicle\nid: one\nname: One\nfluids:\n  oil: { spec: X, item: oil, form: ready, capacity: 4 L, drains: [{ through: [plug], gives: 4 L }], waste: used-oil, level: { engine: "off", attitude: level, says: To the mark. } }\n',
      '`level` is not a value of `attitude`. There are `on-ground` and `level-lift`.',
    ],
    ['kind: preparation\nid: one\nname: One\nsteps:\n  - remove: cover\n    wear: [goggles]\n', 'Write `eyes`.'],
    ['kind: preparation\nid: one\nname: One\nsteps:\n  - remove: cover\n    wear: [constructor]\n', 'is not a value of'],
  ])('a value in other words is told with the one that is meant: %j', (text, told) => {
    const [only, ...others] = readDocument({ path: 'x.yaml', text }, false).findings;
    expect([others, only?.rule, only?.message, only?.fix]).toEqual([[], 'schema/unknown-value', expect.stringContaining(told), undefined]);
  });

  it('a thread that is written with spaces is told without them', () => {
    const text =
      'kind: vehicle\nid: one\nname: One\nfasteners:\n  lugs: { count: 5, thread: M14 x 1.5, reuse: always, threads: dry, stages: [{ torque: 140 N·m }] }\n';
    const [only, ...others] = readDocument({ path: 'x.yaml', text }, false).findings;
    expect([others, only?.message]).toEqual([
      [],
      expect.stringMatching(/^“M14 x 1\.5” cannot be `thread`\. Write `M14x1\.5`\. Thread, pitch/),
    ]);
  });

  it.each([
    ['amount: 20 mL', 'says'],
    ['quantity: 4', 'count'],
  ])('%s is told with the key that takes such a value', (written, meant) => {
    const text = `kind: preparation\nid: one\nname: One\nsteps:\n  - remove: cover\n    ${written}\n`;
    expect(readDocument({ path: 'x.yaml', text }, false).findings.map((one) => one.message)).toEqual([
      expect.stringContaining(` is not a key of a step. Write \`${meant}\`: `),
    ]);
  });

  it.each(['[', '{', '[ # what is done', '[  '])(
    '`steps: %s` above entries with dashes is told at its bracket, and nothing else',
    (sign) => {
      const text = `kind: preparation\nid: one\nname: One\nsteps: ${sign}\n\n  - inspect: leaks\n    why: They grow.\n  - inspect: hoses\n`;
      expect(readDocument({ path: 'x.yaml', text }, false).findings.map(({ message, span }) => [message, span.start])).toEqual([
        ['A list of entries with dashes takes no bracket. Delete this one.', text.indexOf(sign)],
      ]);
    },
  );

  it('a key that is missing under its own name is told once, at the word that stands for it', () => {
    const text =
      'kind: parts\nid: one\nfor: any\ndate: "2026-01-01"\nitems: { pad: { name: pad } }\noffers:\n  - { no: P-1, item: pad, cost: 4.90 }\n';
    expect(
      readDocument({ path: 'x.yaml', text }, false).findings.map(({ rule, span }) => [rule, text.slice(span.start, span.end)]),
    ).toEqual([
      ['schema/unknown-key', 'no'],
      ['schema/unknown-key', 'item'],
      ['schema/unknown-key', 'cost'],
    ]);
  });

  it.each(['step', 'fix', 'lose', 'rest', 'bend', 'mask', 'tread', 'reopen', 'reread', 'action', 'lane', 'star'])(
    '%s, which is a word itself, is not made another',
    (word) => {
      expect(step(word).map(({ rule, fix }) => [rule, fix])).toEqual([['schema/unknown-key', undefined]]);
    },
  );

  it.each([
    ['remvoe', 'remove'],
    ['Remove', 'remove'],
    ['tightten', 'tighten'],
    ['inspct', 'inspect'],
    ['re_torque', 're-torque'],
  ])('%s, which is none, is mended to %s', (word, meant) => {
    expect(step(word).map(({ fix }) => fix?.edits.map(({ text }) => text))).toEqual([[meant]]);
  });
});

it.each([
  ['gasket-b', 'gasket-a', false],
  ['rear-cover', 'gear-cover', false],
  ['rh-mount', 'lh-mount', false],
  ['gasket-b', 'gaskett-b', true],
  ['raer-cover', 'rear-cover', true],
  ['thermostst', 'thermostat', true],
])('%s for %s: where it may be another thing it is not renamed', (written, known, isSlip) => {
  const file: SourceFile = { path: 'x.yaml', text: written };
  const fix = renameFix({ file, start: 0, end: written.length }, written, [known]);
  expect(fix?.edits.map(({ text }) => text)).toEqual(isSlip ? [known] : undefined);
});

it('a decimal comma is one mistake, also where YAML takes it for the end of a value', () => {
  const told = (file: string, from: string, to: string) =>
    found(demoWith([file, from, to])).map(({ rule, message }) => `${rule}: ${message}`);
  expect(told('/shop/procedures/automatic-gearbox-service.yaml', 'time: 1.3 h, unattended', 'time: 1,3 h, unattended')).toEqual([
    'quantity/decimal-comma: “1,3 h” has a decimal comma. Write a point: 1.3 h.',
  ]);
  expect(told('/shop/jobs/2045-front-brakes.yaml', '[24.12 mm, 24.11', '[24,12 mm, 24.11')).toEqual([
    'quantity/decimal-comma: “24,12 mm” has a decimal comma. Write a point: 24.12 mm.',
  ]);
  expect(told('/shop/jobs/2041-head-gasket.yaml', 'odometer: 184320 km', 'odometer: 184,320 km')).toEqual([
    'quantity/decimal-comma: “184,320 km” has a comma. Write 184320 km if it divides thousands, or 184.320 km if it is a decimal comma.',
  ]);
  for (const space of [' ', '\u202f'])
    expect(told('/shop/jobs/2041-head-gasket.yaml', 'odometer: 184320 km', `odometer: 184${space}320 km`)).toContain(
      `quantity/unreadable: “184${space}320 km” has a space in its number. Write 184320 km.`,
    );
  expect(told('/shop/vehicles/tarrock-35.yaml', 'mass: 2310 kg', 'mass: 2 310 kg')).toEqual([
    'quantity/unreadable: “2 310 kg” has a space in its number. Write 2310 kg.',
  ]);
  expect(told('/shop/jobs/2041-head-gasket.yaml', 'odometer: 184320 km', 'odometer: 184.320 km')).toEqual([
    'job/odometer: “184.320 km” is read with a decimal point. If the point divides thousands, write 184320 km.',
  ]);
});

it('a figure in a wrong unit is one mistake, also in the first of several stages', () => {
  const told = found(demoWith(['/shop/vehicles/marn-20.yaml', '{ torque: 6 N·m }', '{ torque: 89 lbf·ft }']));
  expect(told.map(({ rule }) => rule)).toEqual(['torque/cannot-hold']);
  expect(told[0]?.message).toContain('Did you mean 89 lbf·in');
});

it('nothing is wrong with a remark: the line behind it is told', () => {
  const [found] = read('kind: preparation\nid: one\n# note: x\n\n  # and: y\n  name: One\nsteps:\n  - inspect: leaks\n');
  expect([found?.rule, found?.line]).toEqual(['yaml/syntax', 6]);
});

it('a document whose `kind` is written otherwise is told so, at that key', () => {
  for (const key of ['Kind', 'KIND', 'kin', 'kind:', 'knid']) {
    const [found] = read(`${key}: preparation\nid: one\nname: One\nsteps: []\n`);
    expect([found?.rule, found?.line, found?.message]).toEqual([
      'schema/no-kind',
      1,
      expect.stringContaining(`\`${key}\` stands here and not \`kind\``),
    ]);
  }
});

describe('what stands where keys with values belong', () => {
  const procedure = (lines: string) => `kind: procedure\nid: x\nname: X\nsteps:\n  - inspect: leaks\n${lines}`;
  const vehicle = (lines: string) => `kind: vehicle\nid: v\nname: V\n${lines}`;
  it.each([
    ['remove the Belt.', 'remove: belt'],
    ['Take off the air filter housing!', 'remove: air-filter-housing'],
    ['Torque up both wheel-bolts', 'tighten: wheel-bolts'],
    ['re-torque wheel-bolts', 're-torque: wheel-bolts'],
    ['reconnect battery', 'connect: battery'],
    ['Install Zündkerze', 'fit: zundkerze'],
    ['drain', 'drain: …'],
  ])('a step as a sentence is told as one: %s', (sentence, step) => {
    expect(read(procedure(`  - ${sentence}\n`)).map((one) => one.message)).toEqual([
      `A step is a verb with its object, but “${sentence}” stands here. Write \`${step}\`.`,
    ]);
  });

  it.each([
    ['behind', 'parts: { pump: { covered-by: [tank] }, tank: {} }\n'],
    ['fasteners', 'parts: { pump: { bolts: pump-bolts } }\nfasteners: { pump-bolts: { count: 1, method: hand } }\n'],
    ['seals', 'parts: { pump: { gasket: { pump-gasket: 1 } } }\n'],
    ['through', 'parts: { tap: {} }\nfluids: { oil: { capacity: 5 L, drains: [{ openings: [tap], gives: 3 L }] } }\n'],
    ['gives', 'parts: { tap: {} }\nfluids: { oil: { capacity: 5 L, drains: [{ through: [tap], volume: 3 L }] } }\n'],
    ['torque', 'fasteners: { bolts: { count: 1, stages: [{ moment: 5 N·m }] } }\n'],
    ['angle', 'fasteners: { bolts: { count: 1, stages: [{ torque: 5 N·m }, { degrees: 90 deg }] } }\n'],
    ['limit', 'measurements: { gap: { name: gap, range: 0.1..0.3 mm } }\n'],
    ['from', 'choices: { shim: { name: shim, by: gap, table: [{ over: 1 mm, to: 2 mm, gives: x }] } }\n'],
    ['over', 'choices: { shim: { name: shim, from: gap, table: [{ from: 1 mm, to: 2 mm, gives: x }] } }\n'],
    ['gives', 'choices: { shim: { name: shim, from: gap, table: [{ over: 1 mm, to: 2 mm, item: x }] } }\n'],
    ['document', 'source: { book: B }\n'],
  ])('another word for `%s` is one finding, which says it: %j', (key, text) => {
    expect(read(vehicle(text))).toEqual([
      expect.objectContaining({ rule: 'schema/unknown-key', message: expect.stringContaining(` Write \`${key}\`: `) }),
    ]);
  });

  it.each([
    ['fluids: { oil: { capacity: 5 L, refill: 3 L with filter } }\n', 'Write `drains: [{ through: …, gives: 3 L }]`.'],
    ['measurements: { gap: { name: gap, nominal: 0.1-0.3mm } }\n', 'Write `limit: 0.1..0.3 mm`.'],
    ['parts: { spark-plug: { torque: 12 Nm (dry) } }\n', 'Under `fasteners` it is `stages: [{ torque: 12 Nm }]`.'],
    ['parts: { spark-plug: { thread: M10x1 } }\n', 'It is a key of what stands under `fasteners`.'],
    ['fluids: { oil: { capacity: 5 L, gaskets: { copper-ring: 1 } } }\n', 'Under `parts` it is `seals`.'],
  ])('another word that stands elsewhere, or whose value is said otherwise, is told with both: %j', (text, write) => {
    expect(read(vehicle(text)).map(({ message }) => message)).toEqual([expect.stringContaining(` is not a key of `)]);
    expect(read(vehicle(text))[0]?.message).toContain(write);
  });

  it.each([
    [procedure('labour: { work: 1.5 h }\n'), '{ time: 1.5 h }'],
    [procedure('measurements: { gap: max 0.5 mm }\n'), '{ name: …, limit: max 0.5 mm }'],
    [procedure('measurements: { gap: between the faces }\n'), '{ name: between the faces }'],
    [procedure('source: "Book: 3rd"\n'), '{ document: "Book: 3rd" }'],
    [vehicle('fasteners: { bolts: 45 Nm }\n'), '{ stages: [{ torque: 45 Nm }] }'],
    [vehicle('fasteners: { bolts: 45 Nm dry }\n'), '{ stages: [{ torque: 45 Nm }] }'],
    [vehicle('fluids: { oil: 4.3 L }\n'), '{ capacity: 4.3 L }'],
    [vehicle('fluids: { oil: 5W-30 }\n'), '{ spec: 5W-30, capacity: … }'],
    [vehicle('parts:\n  - name: Front cover\n'), 'front-cover: { … }'],
    [vehicle('parts: [alternator]\n'), 'alternator: { … }'],
    [vehicle('parts: [[]]\n'), 'name-of-it: { … }'],
    [vehicle('parts: { cover: { behind: belt } }\n'), '[belt]'],
    [vehicle('parts: { shoes: { material: friction lining } }\n'), '[friction-lining]'],
    [procedure('  - clean: drum\n    wear: dust mask\n'), '[mask]'],
    [vehicle('fasteners: { bolts: { stages: 45 Nm } }\n'), '[{ torque: 45 Nm }]'],
    [procedure('labour: 1.5 h\n'), '{ work: { time: 1.5 h } }'],
    [procedure('close-up: put on the cover\n'), '- fit: cover'],
    [vehicle('waits: { battery-off: { time: 3 min } }\n'), '3 min'],
  ])('%j', (text, instead) => {
    expect(read(text)[0]).toMatchObject({ rule: 'schema/wrong-type', message: expect.stringContaining(` Write \`${instead}\`. `) });
  });

  it.each([
    ['27/11/2026', 'Write 2026-11-27. '],
    ['7.11.2026', 'Write 2026-11-07 or 2026-07-11. '],
    ['11-27-2026', 'Write 2026-11-27. '],
    ['31/31/2026', ''],
    ['tomorrow', ''],
  ])('a day as others write it: %s', (day, told) => {
    const order = `kind: job\nid: j\ndate: ${day}\nvehicle: v\nwork: [w]\n`;
    expect(read(order)[0]?.message.replaceAll('`', '')).toMatch(new RegExp(`^“${day}” cannot be date. ${told}Date of the job`));
  });

  it.each([
    ['kind: job\nid: j\ndate: "2026-11-27"\nvehicle: v\nplate: X\nwork: [w]\nassigned: R\n', 'Write `technician`: '],
    ['kind: job\nid: j\ndate: "2026-11-27"\nvehicle: v\nplate: X\nwork: [w]\nabc: R\n', ' `checker`, '],
    [vehicle('xyz: 1\n'), 'There are `kind`, `id`, '],
    [vehicle('parts: { lid: { seal: sealant } }\n'), 'Write `none`.'],
    [vehicle('fasteners: { bolts: { threads: locked } }\n'), 'Write `threadlocker`.'],
  ])('what is not a key or a value is told with those that are: %j', (text, words) => {
    expect(read(text)[0]?.message).toContain(words);
  });

  it('an order of tightening by another name is told with ours', () => {
    const told = (order: string) =>
      found(
        demoWith([
          '/shop/vehicles/marn-20.yaml',
          /sequence: star/.exec(demoTexts()['/shop/vehicles/marn-20.yaml'] ?? '')?.[0] ?? '',
          `sequence: ${order}`,
        ]),
      );
    expect(told('crosswise').map(({ message }) => message)).toEqual([expect.stringContaining('Write `star`.')]);
    expect(told('center-out').map(({ message }) => message)).toEqual([expect.stringContaining('Write `centre-out`.')]);
  });

  it.each([
    [
      '  - disconnect: gear-linkage',
      '  - disconnect: gear-linkage from the box',
      'a name with more behind it. Write `disconnect: gear-linkage`, and the rest as `says: from the box`.',
    ],
    [
      '  - fit: clutch-cover\n',
      '  - fit: Clutch cover (new)\n',
      'a name with more behind it. Write `fit: clutch-cover`, and the rest as `says: (new)`.',
    ],
    [
      '  - remove: driveshafts\n',
      '  - remove: driveshafts carefully\n',
      'a name with more behind it. Write `remove: driveshafts`, and the rest in its `says:`.',
    ],
    [
      '[flywheel-free-angle, flywheel-tilt]',
      'flywheel-free-angle, flywheel-tilt',
      'a list of names. Write it as one: `measure: [flywheel-free-angle, flywheel-tilt]`.',
    ],
    [
      '[flywheel-free-angle, flywheel-tilt]',
      'flywheel-free-angle and flywheel-tilt',
      'a list of names. Write it as one: `measure: [flywheel-free-angle, flywheel-tilt]`.',
    ],
    [
      '  - fit: starter\n',
      '  - fit: starter and its bracket\n',
      'a name and more. Write `fit: starter`; what else is meant has a name of its own, `fit: [starter, …]`, or stands in `says:`.',
    ],
  ])('a name with more than belongs to it is told once, with what to write: %s', (from, to, write) => {
    const told = found(demoWith(['/shop/procedures/clutch.yaml', from, to]));
    expect(told.map(({ rule, message }) => `${rule} ${message.replace(/^`[^`]*` is /, '')}`)).toEqual([`reference/unknown-name ${write}`]);
  });

  it('a name that says less than those that there are is told with them, and other things are no remark', () => {
    const told = (to: string) =>
      found(demoWith(['/shop/procedures/clutch.yaml', '  - remove: starter\n', `  - remove: ${to}\n`])).map(({ message }) => message);
    expect(told('mount')).toContainEqual(expect.stringMatching(/Did you mean `[a-z-]+-mount`/));
    expect(told('starter bolts').join()).toContain('`starter bolts` is not');
  });

  it('a name with a figure is told as that, and once', () => {
    const told = (written: string) =>
      found(demoWith(['/shop/procedures/clutch.yaml', '  - tighten: flywheel-bolts\n', `  - tighten: ${written}\n`]));
    for (const written of ['flywheel-bolts 60 N·m', 'flywheel-bolts to 44 lbf·ft', 'flywheel-bolts with 20..25 Nm'])
      expect(told(written).map(({ rule, message }) => `${rule}: ${message}`)).toEqual([
        `reference/unknown-name: \`${written}\` is a name with a figure. Write \`tighten: flywheel-bolts\`; the figure stands once, with what it belongs to in the profile.`,
      ]);
    expect(told('flywheel-bolt 60 N·m').map((one) => one.message)).toContainEqual(
      expect.stringContaining('is not a fastener group or part'),
    );
  });

  it.each([
    ['drain: sump-plug', '`sump-plug` is a part; `drain` takes a fluid or charge. Write `drain: engine-oil`.'],
    ['fill: oil-filter', '`oil-filter` is a part; `fill` takes a fluid or charge. Write `fill: engine-oil` or `lubricate: oil-filter`.'],
    ['fill: expansion-cap', '`expansion-cap` is a part; `fill` takes a fluid or charge. Write `fill: coolant`.'],
    ['remove: coolant', '`coolant` is a fluid; `remove` takes a part. Write `drain: coolant`.'],
    ['fit: coolant', '`coolant` is a fluid; `fit` takes a part. Write `fill: coolant`.'],
    [
      'remove: pump-bolts',
      '`pump-bolts` is a fastener group; `remove` takes a part. Write `remove: coolant-pump` or `loosen: pump-bolts`.',
    ],
    [
      'renew: pump-bolts',
      '`pump-bolts` is a fastener group; `renew` takes a part. New each time are those whose group says `reuse: never` and its `item:`.',
    ],
    ['fit: pump-bolts', '`pump-bolts` is a fastener group; `fit` takes a part. Write `fit: coolant-pump` or `tighten: pump-bolts`.'],
    ['place: coolant-pump', '`coolant-pump` is a part; `place` takes a temporary item. Write `fit: coolant-pump`.'],
    ['clear: coolant-pump', '`coolant-pump` is a part; `clear` takes a temporary item. Write `remove: coolant-pump`.'],
    ['fit: crank-pin', '`crank-pin` is a temporary item; `fit` takes a part. Write `place: crank-pin`.'],
    ['tighten: coolant', '`coolant` is a fluid; `tighten` takes a fastener group or part.'],
    [
      'measure: coolant-pump',
      '`coolant-pump` is a part; `measure` takes a measurement. What is measured of it is declared under `measurements:`, with a name of its own.',
    ],
  ])('a name that stands for something else than the verb takes, %s, is told as that', (step, message) => {
    const library = demoWith([
      '/shop/procedures/coolant-pump.yaml',
      '  - remove: coolant-pump\n',
      `  - ${step}\n  - remove: coolant-pump\n`,
    ]);
    const told = found(library).filter((one) => one.rule === 'reference/unknown-name');
    expect(told.map((one) => one.message)).toEqual([message]);
  });

  it('a single name where a list belongs is mended, and nothing else is made a list', () => {
    const fixOf = (text: string) =>
      readDocument({ path: 'x.yaml', text }, false).findings.map(({ fix }) => fix?.edits.map((edit) => edit.text));
    expect(fixOf(vehicle('parts: { cover: { behind: belt } }\n'))).toEqual([['[belt]']]);
    expect(fixOf(procedure('needs: engine-cold\n'))).toEqual([['[engine-cold]']]);
    expect(fixOf(procedure('needs: engine cold\n'))).toEqual([undefined]);
    expect(fixOf(procedure('needs: "engine-cold"\n'))).toEqual([undefined]);
    expect(fixOf(procedure('close-up: fit\n'))).toEqual([undefined]);
    expect(fixOf(procedure('labour: 1.5 h\n'))).toEqual([undefined]);
  });

  it('where nothing can be made of it, that is left out', () => {
    for (const text of [
      procedure('  - 7\n'),
      procedure(`  - remove ${'x'.repeat(80)}\n`),
      vehicle('parts: { cover: front }\n'),
      procedure('  - [a]\n'),
    ])
      expect(read(text).map((one) => one.message)).toEqual([expect.not.stringContaining('Write')]);
  });
});

it('a text that several commas cut is told once, whole, and put in quotes', () => {
  const text = (says: string) =>
    `kind: procedure\nid: one\nname: One\nlabour:\n  all: { says: ${says}, time: 2.1 h }\nsteps:\n  - inspect: leaks\n    says: dry\n`;
  const findings = readDocument({ path: 'x.yaml', text: text('recover, compressor, charge') }, false).findings;
  expect(findings.map(({ rule, message }) => [rule, message])).toEqual([
    ['yaml/comma-in-text', 'Inside braces a comma ends a text. Put the text of `says` in quotes: "recover, compressor, charge".'],
  ]);
  const [edit] = findings[0]?.fix?.edits ?? [];
  const source = text('recover, compressor, charge');
  expect(`${source.slice(0, edit?.span.start)}${edit?.text}${source.slice(edit?.span.end)}`).toBe(text('"recover, compressor, charge"'));
});
