// What a record leaves open: the sheet as it was filled in, held against all that it asks for.
import { describe, expect, it } from 'vitest';
import { leftOpenIn } from '../src/emit/outputs.js';
import { baySheet } from '../src/layout/bay-sheet.js';
import type { Field, Piece } from '../src/layout/page.js';
import type { JobRecord } from '../src/layout/recorded.js';
import type { CompiledJob } from '../src/schema/generated/compiled-job.js';
import { measure } from './helpers/paper.js';
import { compiled, demoTexts, demoWith, libraryOf } from './helpers/shop.js';

const library = libraryOf(demoTexts());
const job = (id: string) => compiled(library, id);

function fieldsOf(of: CompiledJob): Field[] {
  const fieldsIn = (piece: Piece): Field[] =>
    piece.kind === 'element' ? [...(piece.field ? [piece.field] : []), ...piece.children.flatMap(fieldsIn)] : [];
  return baySheet(of, measure).pages.flatMap(({ pieces }) => pieces.flatMap(fieldsIn));
}

/** A value inside the limit of a measurement. */
function inside(of: CompiledJob, key: string): string {
  const one = of.measurements.find(({ code }) => key.replace(/[./].*$/, '') === code);
  if (!one) return '1';
  const [low, high] = [one.low ?? one.high ?? '1', one.high ?? one.low ?? '1'].map(Number);
  // Of what is told by the difference of readings all are the same.
  return String(((low ?? 0) + (high ?? 0)) / 2);
}

/** All that is asked for when no reading is outside, ticked and written as it should be; one of each table of choices. */
function whole(of: CompiledJob): JobRecord & { ticks: Record<string, true>; values: Record<string, string> } {
  const waits = (key: string) => of.steps[Number(/^step\/(\d+)$/.exec(key)?.[1] ?? 0) - 1]?.when != null;
  const ticks: Record<string, true> = {};
  const values: Record<string, string> = {};
  for (const field of fieldsOf(of)) {
    if (field.kind === 'blank')
      values[field.key] ??= field.unit === '' ? 'someone' : (/^[TFK]-/.test(field.key) && field.limit?.high) || inside(of, field.key);
    else if (!waits(field.key) && !field.key.startsWith('C-')) ticks[field.key] = true;
  }
  values['signed/done'] = 'T1';
  for (const { code, from, rows } of of.choices) {
    const read = Number(inside(of, from));
    const right = rows.find(({ over, to }) => read > Number(over) && read <= Number(to));
    if (right) ticks[`${code}/${right.item}`] = true;
  }
  return { ticks, values };
}
const openIn = (of: CompiledJob, record: JobRecord) => leftOpenIn(of, measure, record);

describe('every job of the demo', () => {
  it.each([...library.jobs.keys()])('%s: filled in whole, nothing is left open; empty, all is', (id) => {
    const of = job(id);
    expect(openIn(of, whole(of))).toEqual([]);
    const empty = openIn(of, { ticks: {}, values: {} });
    expect(empty.join('\n')).toMatch(/^Not confirmed at the vehicle: .*\nSteps not ticked: 1–/m);
    for (const { code, count, stages } of of.joints)
      if (count > 0 && stages.some((stage) => stage.boxes > 0 && stage.after !== 'distance'))
        expect(empty.join('\n')).toContain(`${code} `);
  });
});

describe('the largest', () => {
  const of = job('2041-head-gasket');
  const without = (...keys: readonly string[]) => {
    const record = whole(of);
    for (const key of keys) {
      expect([Object.hasOwn(record.ticks, key), Object.hasOwn(record.values, key)]).toContain(true);
      delete record.ticks[key];
      delete record.values[key];
    }
    return openIn(of, record);
  };
  const writing = (
    values: Readonly<Record<string, string>>,
    ticks: Readonly<Record<string, true>> = {},
    untick: readonly string[] = [],
  ) => {
    const record = whole(of);
    Object.assign(record.values, values);
    Object.assign(record.ticks, ticks);
    for (const key of untick) delete record.ticks[key];
    return openIn(of, record);
  };

  it('one box, one blank, one signature: each is told', () => {
    expect(without('step/3')).toEqual(['Steps not ticked: 3']);
    expect(without('step/3', 'step/5', 'step/6', 'step/7', 'step/9', 'step/10')).toEqual(['Steps not ticked: 3, 5–7, 9, 10']);
    expect(without('T-01/2/7')).toEqual([expect.stringMatching(/^T-01 .*, stage 2: not ticked 7$/)]);
    expect(without('M-05/2')).toEqual(['Nothing is written at M-05 2']);
    expect(without('signed/released')).toEqual(['Nothing is written at released by']);
    expect(without('H-01/initials')).toEqual(['Nothing is written at H-01 initials']);
    expect(without('ledger/1')).toEqual([expect.stringMatching(/^Not seen closed: /)]);
    expect(without('confirm/1')).toEqual([expect.stringMatching(/^Not confirmed at the vehicle: plate EF 2217 K/)]);
  });

  it('what is for the bench, the slip, or whoever parts with the old parts may stay open', () => {
    expect(without('new/1', 'fetch/1', 'after/1/1', 'closing/parts-shown', 'odometer-out')).toEqual([]);
    expect(without('closing/tested-again')).toEqual([
      expect.stringMatching(/^Not ticked: tested again in the same way, and the complaint is gone; before/),
    ]);
    expect(without('closing/nothing-left')).toEqual(['Not ticked: nothing left in the vehicle: tools and pieces counted']);
  });

  it('a tick is a tick, and nothing else is', () => {
    const record = whole(of);
    expect(openIn(of, { ...record, ticks: { ...record.ticks, 'step/3': false, 'step/4': 'yes', __proto__: { 'step/5': true } } })).toEqual([
      'Steps not ticked: 3, 4',
    ]);
  });

  it('readings: as somebody writes them, no numbers, and outside', () => {
    const one = of.measurements.find(({ code }) => code === 'M-03');
    expect(one).toMatchObject({ low: null, high: expect.any(String) });
    const most = String(one?.high).replace('.', ',');
    for (const right of [most, `${most} ${one?.unit}`, ` ${most}`]) expect(writing({ 'M-03': right }), right).toEqual([]);
    for (const fraction of ['0/4', '1/1000', '0 1/1000']) expect(writing({ 'M-03': fraction }), fraction).toEqual([]);
    expect(writing({ 'M-03': '1/0' })).toEqual([`M-03: “1/0” is no number of ${one?.unit}`]);
    // It may be a thousand, here where a point is the decimal sign.
    expect(writing({ 'M-03': '1,234' })).toEqual([`M-03: “1,234” is no number of ${one?.unit}`]);
    expect(writing({ 'M-03': 'fine' })).toEqual([`M-03: “fine” is no number of ${one?.unit}`]);
    // What the font of the paper lacks is spelt out.
    expect(writing({ 'M-03': '\u{1f44d}\n \u001b[31m' })).toEqual([`M-03: “U+1F44D U+001B[31m” is no number of ${one?.unit}`]);
    expect(writing({ 'M-03': '1 3/8' }).join('\n')).toMatch(/M-03 .*: 1\.375 mm FAILS max/);
    const out = writing({ 'M-03': '9' });
    // What waits for it was not done.
    expect(out.join('\n')).toMatch(/M-03 .*: 9 mm FAILS max/);
    const waiting = of.steps.filter(({ when }) => when?.some((way) => way['M-03']?.includes('outside')));
    expect(waiting.length).toBeGreaterThan(0);
    expect(out.join('\n')).toMatch(new RegExp(`Steps not ticked: .*\\b${waiting[0]?.n}\\b`));
    const done = writing({ 'M-03': '9' }, Object.fromEntries(waiting.map(({ n }) => [`step/${n}`, true as const])));
    expect(done.join('\n')).not.toMatch(/FAILS|Steps not ticked/);
  });

  it('what was done before a reading does not answer it', () => {
    const first = of.steps.map((step) => ({ ...step, when: step.n === 1 ? [{ 'M-03': ['outside'] }] : null }));
    const record = whole(of);
    record.values['M-03'] = '9';
    for (const { n } of of.steps) record.ticks[`step/${n}`] = true;
    expect(openIn({ ...of, steps: first }, record)).toEqual([expect.stringMatching(/^M-03 .*: 9 mm FAILS max/)]);
  });

  it('a grade that the reading does not give, none, and two', () => {
    const [choice] = of.choices;
    const keys = choice?.rows.map(({ item }) => `C-01/${item}`) ?? [];
    const [right = '', ...others] = [...keys].sort(
      (a, b) => Number(Object.hasOwn(whole(of).ticks, b)) - Number(Object.hasOwn(whole(of).ticks, a)),
    );
    const [wrong = ''] = others;
    expect(without(right)).toEqual([expect.stringMatching(/^C-01 .*: nothing is chosen$/)]);
    expect(writing({}, { [wrong]: true })).toEqual([expect.stringMatching(/^C-01 .*: more than one is chosen$/)]);
    expect(writing({}, { [wrong]: true }, [right])).toEqual([
      expect.stringMatching(/^C-01 .*: M-05 .* mm gives G\d, .*, and G\d, .* is ticked$/),
    ]);
  });

  it('the second person is another', () => {
    expect(writing({ 'H-01/initials': 't1 ' })).toEqual(['H-01: the second person is the one who did the work']);
    expect(writing({ 'signed/H-02': 'T1' })).toEqual(['H-02: the second person is the one who did the work']);
  });
});

describe('readings at several points', () => {
  const of = job('2041-head-gasket');

  it('are held against their limit, whatever stands in the blank for the one that counts', () => {
    const record = whole(of);
    for (const key of Object.keys(record.values)) if (key.startsWith('M-05/')) record.values[key] = '0.95';
    delete record.values['M-05'];
    expect(openIn(of, record).join('\n')).toMatch(/^M-05 piston protrusion.*: 0\.95 mm FAILS 0\.55 to 0\.85 mm/m);
  });

  it('of which each counts have no blank for one that does', () => {
    const injectors = job('2051-injectors');
    const keys = fieldsOf(injectors).map(({ key }) => key);
    expect(injectors.measurements.find(({ code }) => code === 'M-01')).toMatchObject({ points: 4, takes: 'each' });
    expect(keys.filter((key) => key.startsWith('M-01'))).toEqual(['M-01/1', 'M-01/2', 'M-01/3', 'M-01/4']);
    expect(keys).toContain('M-02');
  });
});

describe('what came out and what went in', () => {
  const writing = (of: CompiledJob, values: Readonly<Record<string, string>>) => {
    const record = whole(of);
    return openIn(of, { ...record, values: { ...record.values, ...values } });
  };

  it('is held against what the profile says', () => {
    const of = job('2041-head-gasket');
    expect(writing(of, { 'F-01': '7,3', 'F-02': '8.3', 'F-03': '7.9', 'F-04': '8.5 L' })).toEqual([]);
    expect(writing(of, { 'F-02': '6', 'F-03': '9.1' })).toEqual([
      'F-03 recovered (engine oil): 9.1 L, and 7.9 to 8.5 L is expected. Find out why.',
      'F-02 poured (coolant): 6 L, and 7.3 to 8.3 L is expected. Find out why.',
    ]);
  });

  it('each time that it is changed', () => {
    expect(writing(job('2043-gearbox-fluid'), { 'F-01.2': '2.9' })).toEqual([
      'F-01.2 recovered (gearbox fluid): 2.9 L, and 3.2 to 3.6 L is expected. Find out why.',
    ]);
  });

  it('by mass, of what is charged: what is missing of what came out has leaked', () => {
    const of = job('2049-receiver');
    expect(writing(of, { 'K-01': '300' })).toEqual([]);
    expect(writing(of, { 'K-02': '600' })).toEqual([
      'K-02 charged (refrigerant): 600 g, and 540 g (525 to 555 g) is expected. Find out why.',
    ]);
  });

  it('in the unit in which it is written down', () => {
    const quarts = demoWith(['/shop/shop.yaml', 'currency: EUR\n', 'currency: EUR\nvolume-unit: US qt\nmass-unit: oz\n']);
    const clutch = compiled(quarts, '2047-clutch');
    // 1.8 and 2 L are 1.90 and 2.11 quarts of 0.946 352 946 L (NIST SP 811, appendix B.8).
    expect(clutch.fluids[0]).toMatchObject({ low: '1.8', high: '2', inShopUnit: { low: '1.9', high: '2.11' } });
    expect(writing(clutch, { 'F-01': '1.95' })).toEqual([]);
    expect(writing(clutch, { 'F-01': '1.8' })).toEqual([
      expect.stringMatching(/^F-01 recovered \(gearbox oil\): 1\.8 US qt, and 1\.9 to 2\.11 US qt/),
    ]);
    // 525 and 555 g are 18.52 and 19.58 ounces of 28.349 52 g (the same).
    expect(compiled(quarts, '2049-receiver').charges[0]).toMatchObject({ low: '525', inShopUnit: { low: '18.52', high: '19.58' } });
  });

  it('what is poured back is what came out, and has no limits of its own', () => {
    const back = demoWith(['/shop/procedures/clutch.yaml', '  - fill: gearbox-oil\n', '  - fill: gearbox-oil\n    new: false\n']);
    const of = compiled(back, '2047-clutch');
    expect(writing(of, { 'F-01': '1.8', 'F-02': '1.7' })).toEqual([]);
    expect(writing(of, { 'F-01': '1.7' })).toHaveLength(1);
  });
});

describe('a ladder', () => {
  const of = job('2044-pinion-seal');
  /** Somebody went so many rows up; what is read at the last of them. */
  const wentUp = (rows: number, last: string) => {
    const record = whole(of);
    for (const key of Object.keys(record.ticks))
      if (key.startsWith('T-01/1/') && Number(key.split('/')[2]) > rows) delete record.ticks[key];
    for (const key of Object.keys(record.values)) {
      const [code, , row] = key.split('/');
      if (code === 'T-01' && Number(row) > rows) delete record.values[key];
      else if (code === 'T-01') record.values[key] = Number(row) === rows ? last : '0.9';
    }
    return openIn(of, record);
  };

  it('ends where its end is reached: what is behind that is not asked for', () => {
    expect(fieldsOf(of).filter(({ key, kind }) => kind === 'tick' && key.startsWith('T-01/1/')).length).toBe(14);
    expect(wentUp(8, '1.9')).toEqual([]);
    expect(wentUp(14, '2.3')).toEqual([]);
  });

  it('is told where its end is not reached, or is passed', () => {
    const at = (reading: string) =>
      new RegExp(`^T-01 drag of the pinion with the new sleeve at 285 N·m: ${reading} N·m FAILS 1\\.7 to 2\\.3 N·m\\. Outside: `);
    expect(wentUp(8, '1.6')).toEqual([expect.stringMatching(at('1\\.6'))]);
    expect(wentUp(8, '2.4')).toEqual([expect.stringMatching(at('2\\.4'))]);
    expect(wentUp(0, '')).toEqual([
      'T-01 pinion nut, stage 1: not ticked 1',
      expect.stringMatching(/^Nothing is written at drag of the pinion .* at 180 N·m$/),
    ]);
  });

  it('on a screen a reading is told where it is too much, and not where the next row follows', () => {
    const [first] = fieldsOf(of).filter(({ key }) => key === 'T-01/1/1/reading');
    expect(first).toMatchObject({ kind: 'blank', limit: { low: null, high: '2.3' } });
  });
});

describe('a window', () => {
  const of = compiled(
    demoWith([
      '/shop/vehicles/pellan-14.yaml',
      'threads: dry, stages: [{ torque: 59 lbf·ft }]',
      'threads: dry, stages: [{ torque: 59 lbf·ft }, { window: 57..66 lbf·ft, outside: A new bolt. }]',
    ]),
    '2042-hub-bearing',
  );
  const joint = of.joints.find(({ stages }) => stages.some(({ kind }) => kind === 'window'));
  const key = `${joint?.code}/2`;

  it('each reading must lie in it', () => {
    const record = whole(of);
    Object.assign(record.values, { [`${key}/1`]: '77.28', [`${key}/2`]: '89.480' });
    expect(openIn(of, record)).toEqual([]);
    const other = { ...record, values: { ...record.values, [`${key}/2`]: '89.5' } };
    expect(openIn(of, other)).toEqual([`${joint?.code}, stage 2, 2: 89.5 N·m FAILS 77.28 to 89.48 N·m. Outside: A new bolt.`]);
    const [field] = fieldsOf(of).filter((one) => one.key === `${key}/1`);
    expect(field).toMatchObject({ limit: { low: '77.28', high: '89.48' } });
  });
});
