// The golden example: the flagship job of the demo, worked out by hand before it was computed.
// Where a second witness is possible the number is computed here again by other means.
import fs from 'node:fs';
import path from 'node:path';
import Ajv2020 from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { compiled, demoTexts, found, libraryOf, projectFolder } from './helpers/shop.js';

const schemaOfJob = JSON.parse(fs.readFileSync(path.join(projectFolder, 'schemas/compiled-job.schema.json'), 'utf8'));
const validates = new Ajv2020.default({ allErrors: true }).compile(schemaOfJob);

/** Whether a value follows the published schema of the compiled job. */
const compiledJobErrors = (value: unknown): string[] =>
  validates(value) ? [] : (validates.errors ?? []).map((error) => `${error.instancePath} ${error.message}`);

const library = libraryOf(demoTexts());
const job = compiled(library, '2041-head-gasket');

it('the demo checks with no error and no warning', () => {
  expect(found(library)).toEqual([]);
});

it('follows the published schema of the compiled job', () => {
  for (const id of library.jobs.keys()) expect(compiledJobErrors(compiled(library, id))).toEqual([]);
  expect(compiledJobErrors({ ...job, steps: 'none' })).not.toEqual([]);
});

describe('fasteners', () => {
  // Group, how many, stages at once: counted by hand from the workshop sheet.
  const byHand: [string, number, number][] = [
    ['head-bolts', 10, 4],
    ['sprocket-bolt', 1, 2],
    ['tensioner-bolt', 1, 1],
    ['idler-bolt', 1, 1],
    ['rocker-cover-bolts', 14, 2],
    ['intake-bolts', 8, 2],
    ['exhaust-nuts', 9, 2],
    ['injector-clamp-bolts', 4, 2],
    ['hp-unions', 8, 2],
    ['oil-feed-banjo', 1, 1],
    ['outlet-bolts', 3, 1],
    ['pump-bolts', 5, 1],
    ['block-plug-thread', 1, 1],
    ['sump-plug-thread', 1, 1],
    ['oil-filter-cap', 1, 1],
    ['damper-bolts', 4, 2],
    ['engine-mount-bolts', 3, 1],
    ['downpipe-nuts', 3, 1],
    ['undertray-screws', 8, 1],
    ['wheel-nuts', 5, 2],
    ['battery-clamp-nut', 1, 1],
  ];

  it('21 groups, 92 fasteners, 175 stage boxes of which 29 angles; 9 after the heat cycle and 5 on the slip', () => {
    expect(job.joints).toHaveLength(21);
    expect(job.joints.reduce((sum, joint) => sum + joint.count, 0)).toBe(92);
    const stages = job.joints.flatMap((joint) => joint.stages);
    const boxes = (test: (stage: (typeof stages)[number]) => boolean) => stages.filter(test).reduce((sum, stage) => sum + stage.boxes, 0);
    expect(boxes((stage) => stage.after === null)).toBe(175);
    expect(boxes((stage) => stage.kind === 'angle')).toBe(29);
    expect(boxes((stage) => stage.after === 'heat-cycle')).toBe(9);
    expect(boxes((stage) => stage.after === 'distance')).toBe(5);
    expect(byHand.reduce((sum, [, count, n]) => sum + count * n, 0)).toBe(175);
    for (const [group, count, n] of byHand) {
      const joint = job.joints.find((one) => one.group === group);
      expect([group, joint?.count, joint?.stages.filter((stage) => !stage.after).length]).toEqual([group, count, n]);
    }
  });

  it('every stage stands at exactly one step, but for what comes after a distance', () => {
    const done = job.steps.flatMap((step) => step.torque.flatMap((one) => one.stages.map((stage) => `${one.joint}.${stage}`)));
    const wanted = job.joints.flatMap((joint) =>
      joint.stages.filter((stage) => stage.after !== 'distance').map((stage) => `${joint.code}.${stage.n}`),
    );
    expect([...done].sort()).toEqual([...wanted].sort());
  });

  it('plausibility as worked out by hand', () => {
    const byHandRatio: Record<string, number> = {
      'head-bolts': 0.43,
      'sprocket-bolt': 0.31,
      'tensioner-bolt': 0.92,
      'idler-bolt': 0.84,
      'rocker-cover-bolts': 0.8,
      'intake-bolts': 0.81,
      'exhaust-nuts': 0.92,
      'injector-clamp-bolts': 0.18,
      'oil-feed-banjo': 0.3,
      'outlet-bolts': 0.89,
      'pump-bolts': 0.89,
      'damper-bolts': 0.39,
      'engine-mount-bolts': 0.6,
      'downpipe-nuts': 0.74,
      'undertray-screws': 0.54,
      'wheel-nuts': 0.69,
      'battery-clamp-nut': 0.45,
    };
    expect(Object.fromEntries(job.joints.filter((joint) => joint.ratio !== null).map((joint) => [joint.group, joint.ratio]))).toEqual(
      byHandRatio,
    );
  });

  it('crowfoot settings 8.72 and 21.81 N·m; stages a wrench: 19, 8, 2', () => {
    expect(job.joints.find((joint) => joint.group === 'hp-unions')?.stages.map((stage) => stage.setting)).toEqual([
      '8.72 N·m',
      '21.81 N·m',
    ]);
    expect(((10 * 260) / 298).toFixed(2)).toBe('8.72');
    expect(job.tools.torque.map((tool) => [tool.id, tool.stages])).toEqual([
      ['TW-1', 19],
      ['TW-2', 8],
      ['TW-3', 2],
    ]);
  });

  it('each sequence is a permutation', () => {
    for (const joint of job.joints)
      expect([...joint.sequence].sort((a, b) => a - b)).toEqual(Array.from({ length: joint.count }, (_, index) => index + 1));
  });
});

describe('ledger', () => {
  const openAt = (id: string) => job.steps.find((step) => step.id === id)?.openAfter;

  it('47 openings (35 states, 12 temporaries), 47 closings', () => {
    expect(job.ledger).toMatchObject({ opened: 47, closed: 47, states: 35, temporaries: 12 });
  });

  it('42 open when the bolt holes are dry, 40 when the head is tight, 16 when the connectors are on, none on the ground', () => {
    expect(openAt('holes-dry')).toBe(42);
    expect(openAt('head-tight')).toBe(40);
    expect(
      job.steps.find((step) => step.verb === 'connect' && step.objects.some((object) => object.id === 'engine-connectors'))?.openAfter,
    ).toBe(16);
    expect(job.steps.find((step) => step.verb === 'lower')?.openAfter).toBe(0);
  });

  it('is what a plain count of the steps gives', () => {
    let open = 0;
    for (const step of job.steps) {
      open += step.opens.length - step.closes.length;
      expect(step.openAfter).toBe(open);
    }
  });

  it('does each opening once, and closes in the reverse of opening where nothing else decides', () => {
    expect(job.steps.filter((step) => step.verb === 'raise')).toHaveLength(1);
    const order = (verb: string, id: string) =>
      job.steps.find((step) => step.verb === verb && step.objects.some((object) => object.id === id))?.n ?? 0;
    expect(order('fit', 'cylinder-head')).toBeLessThan(order('fit', 'coolant-pump'));
    expect(order('fit', 'coolant-pump')).toBeLessThan(order('fit', 'timing-belt'));
    expect(order('fit', 'timing-belt')).toBeLessThan(order('fit', 'aux-belt'));
    expect(order('fill', 'coolant')).toBeLessThan(order('crank', 'engine'));
    expect(order('crank', 'engine')).toBeLessThan(order('start', 'engine'));
    expect(order('start', 'engine')).toBeLessThan(order('lower', 'vehicle'));
  });
});

describe('fluids', () => {
  const coolant = job.fluids.find((fluid) => fluid.id === 'coolant');

  it('coolant 4.116 L concentrate and 3.684 L water', () => {
    expect(coolant?.mix).toMatchObject({ concentrate: '4.116', water: '3.684', strength: '52.77', result: '50' });
    // Second witness, in millilitres and whole percents: 9600·50 − 1800·38 = 411 600.
    expect((9600 * 50 - 1800 * 38) / 100).toBe(4116);
  });

  it('the table for other drained volumes and strengths', () => {
    const row = (drained: string) => coolant?.mix?.table.rows.find((one) => one.drained === drained)?.cells;
    expect(row('6.2')).toEqual(['3.78 / 2.42', '3.61 / 2.59', '3.51 / 2.69', '3.44 / 2.76', '3.27 / 2.93', '3.10 / 3.10']);
    expect(row('7.8')).toEqual(['4.26 / 3.54', '4.17 / 3.63', '4.12 / 3.68', '4.08 / 3.72', '3.99 / 3.81', '3.90 / 3.90']);
    expect(row('8.2')).toEqual(['4.38 / 3.82', '4.31 / 3.89', '4.27 / 3.93', '4.24 / 3.96', '4.17 / 4.03', '4.10 / 4.10']);
  });

  it('oil 1 × 5 L + 4 × 1 L, concentrate and water one container each', () => {
    expect(job.parts.fluids.map((one) => [one.number, one.count])).toEqual([
      ['FL-3005', 1],
      ['FL-9005', 1],
      ['FL-1005', 1],
      ['FL-1001', 4],
    ]);
    expect(job.parts.fluidTotal).toBe('123.30');
    expect(job.parts.fluidLeftovers).toContainEqual({ name: 'engine oil 5W-30', amount: '0.8 L' });
  });
});

describe('parts', () => {
  it('kit-able parts 424.00, all parts 568.20, the other grades held', () => {
    const kits = job.parts.buy.filter((one) => one.number.startsWith('KIT-'));
    expect(kits.map((one) => one.number)).toEqual(['KIT-B-G2', 'KIT-D']);
    expect(kits.reduce((sum, one) => sum + Number(one.amount), 0)).toBe(424);
    expect(job.parts.total).toBe('568.20');
    expect(kits[0]?.hold).toEqual(['KIT-B-G1', 'KIT-B-G3']);
  });

  it('is the minimum over all 32 subsets of kits and sets, in cents', () => {
    // Second witness: every subset tried; what a subset does not cover is bought singly.
    const singles: Record<string, [number, number]> = {
      gasket: [7450, 1],
      bolt: [690, 10],
      rocker: [2480, 1],
      intake: [1420, 1],
      exhaust: [1960, 1],
      nut: [135, 9],
      washer: [260, 4],
      outlet: [630, 1],
      ret: [510, 1],
      banjo: [110, 2],
      seal: [980, 1],
      belt: [5800, 1],
      tensioner: [6400, 1],
      idler: [3100, 1],
      pump: [7100, 1],
    };
    const top = ['rocker', 'intake', 'exhaust', 'washer', 'outlet', 'ret', 'banjo', 'seal'];
    const kits: [number, string[]][] = [
      [5800, ['bolt']],
      [9600, top],
      [22800, [...top, 'gasket', 'bolt', 'nut']],
      [14200, ['belt', 'tensioner', 'idler']],
      [19600, ['belt', 'tensioner', 'idler', 'pump']],
    ];
    const costs = Array.from({ length: 32 }, (_, mask) => {
      const chosen = kits.filter((_kit, index) => (mask >> index) & 1);
      const covered = new Set(chosen.flatMap(([, items]) => items));
      return (
        chosen.reduce((sum, [price]) => sum + price, 0) +
        Object.entries(singles).reduce((sum, [item, [price, count]]) => sum + (covered.has(item) ? 0 : price * count), 0)
      );
    });
    expect(costs[0]).toBe(47205);
    expect(Math.min(...costs)).toBe(42400);
  });
});

describe('labour and quote', () => {
  it('18.4 h apart, 11.5 h together, 11.85 h with corrosion', () => {
    expect(job.labour).toMatchObject({ apart: '18.4', together: '11.5', billed: '11.85' });
    expect(job.labour.alone).toEqual([
      { work: 'timing-belt', hours: '3.3' },
      { work: 'coolant-pump', hours: '4.3' },
      { work: 'head-gasket', hours: '10.8' },
    ]);
    expect(job.quote.saved).toEqual({ hours: '6.9', amount: '538.20' });
  });

  it('1,727.88 net, 2,073.46 gross', () => {
    expect(job.quote).toMatchObject({ net: '1727.88', gross: '2073.46', limit: '2280.81' });
    expect(job.quote.lines.map((line) => line.amount)).toEqual(['924.30', '568.20', '123.30', '20.00', '86.25', '5.83']);
    // Second witness in whole cents: 20 % of 172 788, rounded half up.
    const cents = job.quote.lines.reduce((sum, line) => sum + BigInt(line.amount.replace('.', '')), 0n);
    expect(cents).toBe(172788n);
    expect(cents + (cents * 20n + 50n) / 100n).toBe(207346n);
  });

  it('the skim alone is inside the limit, skim and studs are outside: the call falls at the skim', () => {
    const skim = job.steps.find((step) => step.id === 'skim')?.n;
    expect(job.quote.found.map((one) => [one.what.length, one.gross, one.call])).toEqual([
      [1, '2202.34', null],
      [1, '2156.26', null],
      [2, '2285.14', skim],
    ]);
  });

  it('the wheel-nut slip is due at 184 415 km', () => {
    expect(job.followUps[0]).toMatchObject({ what: 'Re-torque road-wheel nuts to 160 N·m', due: 'at 184415 km', boxes: 5 });
  });
});

it('partial changes of the gearbox fluid: 44.74, 69.46, 83.12, 90.67 % with four changes, 13.6 L', () => {
  const fluid = compiled(library, '2043-gearbox-fluid').fluids[0];
  expect(fluid).toMatchObject({ rounds: 4, shares: ['44.74', '69.46', '83.12', '90.67'], pour: '13.6' });
  expect((1 - (1 - 3.4 / 7.6) ** 4) * 100).toBeCloseTo(90.67, 2);
});

it('the axle nut, written in lbf·ft, is tightened on the ground, after lowering', () => {
  const hub = compiled(library, '2042-hub-bearing');
  const lower = hub.steps.find((step) => step.verb === 'lower')?.n ?? 0;
  const nut = hub.steps.find((step) => step.verb === 'tighten' && step.objects[0]?.id === 'axle-nut');
  expect(nut?.n).toBeGreaterThan(lower);
  expect(hub.joints.find((joint) => joint.group === 'axle-nut-thread')?.stages.map((stage) => [stage.value, stage.other])).toEqual([
    ['100.3 N·m', '74 lbf·ft'],
    ['60°', null],
  ]);
});

it('each procedure also builds alone', () => {
  for (const work of ['timing-belt', 'coolant-pump', 'head-gasket']) {
    const texts = demoTexts();
    texts['/shop/jobs/2041-head-gasket.yaml'] = (texts['/shop/jobs/2041-head-gasket.yaml'] ?? '')
      .replace('work: [timing-belt, coolant-pump, head-gasket]', `work: [${work}]`)
      .replace(/access:\n.*\n/, '');
    const alone = libraryOf(texts);
    expect(found(alone)).toEqual([]);
    expect(compiled(alone, '2041-head-gasket').ledger).toMatchObject({ opened: compiled(alone, '2041-head-gasket').ledger.closed });
  }
});

it('every computed figure shows its working, with where its inputs come from', () => {
  for (const of of ['parts/total', 'labour/billed', 'quote/gross', 'fluids/coolant/mix/concentrate', 'joints/T-15/stages/1/setting'])
    expect(job.workings.map((one) => one.of)).toContain(of);
  for (const working of job.workings) expect(working.inputs.every((input) => input.value !== '')).toBe(true);
});
