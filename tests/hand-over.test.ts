// What a vehicle may not be left with, or used for, where work stops between two steps: on paper, by the compiled job.
import path from 'node:path';
import { expect, it } from 'vitest';
import { openFaces } from '../src/emit/pdf/fonts.js';
import { handOverTag } from '../src/layout/hand-over-tag.js';
import { marksOf } from '../src/layout/page.js';
import { readFonts } from '../src/world/fonts.js';
import { compiled, demoWith, projectFolder } from './helpers/shop.js';

const { measure } = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));
const job = compiled(demoWith(), '2042-hub-bearing');
const stepOf = (verb: string, object: string): number =>
  job.steps.findLast((step) => step.verb === verb && step.objects.some(({ id }) => id === object))?.n ?? 0;
const wheel = 'front-left-wheel';
const wordsAfter = (one: typeof job, after: number): string =>
  handOverTag(one, measure, after)
    .pages.flatMap((page) => marksOf(page.pieces))
    .flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []))
    .join(' ');

it('a wheel that is on and not tight: not safe to leave, named with its code, and no road test', () => {
  const fitted = stepOf('fit', wheel);
  const last = stepOf('tighten', wheel);
  expect(stepOf('lower', 'vehicle')).toBeGreaterThan(fitted);
  expect(last).toBeGreaterThan(stepOf('lower', 'vehicle'));
  for (const step of job.steps.slice(fitted - 1, last - 1)) {
    expect([step.n, step.safeToLeave, step.looseAfter > 0]).toEqual([step.n, false, true]);
    expect(wordsAfter(job, step.n)).toMatch(
      /NOT SAFE TO LEAVE .*Road test: .*wheel bolts.*On, and not tight: .*T-\d\d wheel bolts \(until step \d+\)/,
    );
  }
  expect(job.steps[last - 1]).toMatchObject({ safeToLeave: true, looseAfter: 0, openAfter: 0 });
  expect(wordsAfter(job, last)).toMatch(/SAFE TO LEAVE .*Nothing is open\./);
  expect(wordsAfter(job, last)).not.toMatch(/NOT SAFE|not tight:/);
});

it.each([...demoWith().jobs.keys()])('%s: each joint is loose from when its part goes on to its last stage, and is told as long', (id) => {
  const { ledger, joints, steps } = compiled(demoWith(), id);
  const { loose } = ledger;
  // What is loosened and tightened again, and stays on, is a line of its own.
  const loosened = ledger.lines.flatMap(({ verb, name }) => (verb === 'loosen' ? [name] : []));
  for (const { code, name, stages } of joints)
    if (stages.some(({ kind }) => kind === 'torque') && !loosened.includes(name)) expect(loose.map(({ joint }) => joint)).toContain(code);
  for (const { joint, fitted, tight } of loose) {
    // What is loosened before its part comes off is loose until then.
    if (steps[fitted - 1]?.verb === 'loosen') {
      const part = joints.find(({ code }) => code === joint)?.part;
      const off = steps.slice(fitted).find(({ verb, objects }) => verb === 'remove' && objects.some((one) => one.id === part));
      expect([joint, tight]).toEqual([joint, off?.n]);
      continue;
    }
    const owed = new Set(joints.find(({ code }) => code === joint)?.stages.flatMap(({ n, after }) => (after ? [] : [n])));
    expect([joint, owed.size > 0]).toEqual([joint, true]);
    const last = steps.slice(fitted).find(({ torque }) => {
      for (const one of torque) if (one.joint === joint) for (const stage of one.stages) owed.delete(stage);
      return owed.size === 0;
    });
    expect([joint, tight]).toEqual([joint, last?.n]);
    expect(steps[fitted - 1]?.verb).toMatch(/^(fit|close|connect)$/);
  }
  for (const { n, looseAfter } of steps)
    expect([n, looseAfter]).toEqual([n, loose.filter(({ fitted, tight }) => fitted <= n && (tight ?? n + 1) > n).length]);
});

it('an engine that still runs is named as what is not safe', () => {
  const bus = compiled(demoWith(), '2043-gearbox-fluid');
  const start = bus.steps.find(({ verb }) => verb === 'start');
  const stop = bus.steps.find(({ verb }) => verb === 'stop');
  const [from = 0, to = 0] = [start?.n, stop?.n];
  expect(to).toBeGreaterThan(from + 1);
  for (let n = from; n < to; n++) {
    expect(bus.steps[n - 1]).toMatchObject({ runsSince: from, safeToLeave: false });
    expect(wordsAfter(bus, n)).toMatch(new RegExp(`NOT SAFE TO LEAVE The engine runs since step ${from}: it is stopped first\\.`));
  }
  expect(bus.steps[to - 1]).toMatchObject({ runsSince: null, safeToLeave: true });
  expect(wordsAfter(bus, to)).not.toContain('The engine runs');
});

it('what comes off again before it is tight is loose no more; what nothing tightens is loose to the end', () => {
  const procedure = '/shop/procedures/hub-bearing.yaml';
  const fit = '  - fit: brake-caliper\n';
  const again = compiled(demoWith([procedure, fit, `${fit}  - remove: brake-caliper\n${fit}`]), '2042-hub-bearing');
  const calipers = again.ledger.loose.filter(({ name }) => name === 'caliper bolts');
  expect(calipers).toHaveLength(2);
  expect(calipers[0]?.tight).toBe(calipers[0] ? calipers[0].fitted + 1 : 0);
  const never = compiled(demoWith([procedure, '  - tighten: caliper-bolts\n', '']), '2042-hub-bearing');
  expect(never.ledger.loose.find(({ name }) => name === 'caliper bolts')).toMatchObject({ joint: null, tight: null });
  expect(never.steps.at(-1)?.looseAfter).toBe(1);
});

it('what somebody might do with a vehicle that stands there is forbidden, whether this job does it or not', () => {
  // This job changes the oil of an axle, and never starts the engine.
  const axle = compiled(demoWith(), '2044-pinion-seal');
  expect(axle.steps.map(({ verb }) => verb)).not.toContain('start');
  const off = axle.ledger.lines.find(({ name }) => name === 'rear propshaft');
  expect(off?.before).toEqual(expect.arrayContaining(['Road test', 'Start engine']));
  // An electric vehicle has none to start.
  const electric = compiled(demoWith(), '2050-coolant-plate');
  const all = electric.ledger.lines.flatMap(({ before }) => before);
  expect(all).toContain('Road test');
  expect(all).not.toContain('Start engine');
});
