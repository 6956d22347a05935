import { describe, expect, it } from 'vitest';
import { usualSizes } from '../src/resolve/torque/head-sizes.js';
import { isOtherThread } from '../src/resolve/torque/other-threads.js';
import { proofTorque } from '../src/resolve/torque/plausibility.js';
import { parseThread } from '../src/resolve/torque/threads.js';
import { baySheet } from '../src/layout/bay-sheet.js';
import { measure, wordsOn } from './helpers/paper.js';
import { compiled, demoWith, found } from './helpers/shop.js';

// Sizes by ISO 228-1, ISO 7-1, ASME B1.20.1 and ISO 1478, all from memory.
const threads = [
  'G1/8',
  'G 1/4',
  'G1/2A',
  'G1',
  'G1 1/4',
  'R1/8',
  'Rp1/2',
  'Rc3/8',
  '1/4 BSP',
  '1/8 BSPT',
  '1/8-27 NPT',
  '1/4 NPT',
  '1 1/4-11.5 NPT',
].concat(['3/8-18 NPTF', 'ST4.8', 'ST4.8x16', 'ST8x25', 'Tr20x4', '5/16-22 BSF', '1/4-20 BSW', '2 BA', '0BA']);
const none = ['G1/7', 'G5', 'R2/8', '1/8-18 NPT', '3/16 NPT', 'ST4.7', 'Tr10x6'];

describe('threads that are none of a bolt', () => {
  const told = (thread: string) =>
    found(demoWith(['/shop/vehicles/sillane-16.yaml', 'thread: M6x1, class: "8.8", drive: 10 AF, ', `thread: "${thread}", drive: 10 AF, `]))
      .map(({ rule, message }) => `${rule}: ${message}`)
      .filter((one) => /thread/i.test(one));

  it.each(threads)('%s is one: it may be written, and nothing is estimated of it', (thread) => {
    expect([isOtherThread(thread), parseThread(thread)]).toEqual([true, null]);
    expect([proofTorque(thread, '8.8'), usualSizes(thread, 'hexagon')]).toEqual([null, null]);
    expect(told(thread)).toEqual([]);
  });

  it('stainless bolts: their class is known, and a torque that they cannot hold is told', () => {
    const of = (name: string, torque: string) =>
      found(
        demoWith([
          '/shop/vehicles/sillane-16.yaml',
          'thread: M6x1, class: "8.8", drive: 10 AF, reuse: always, threads: dry, stages: [{ torque: 5 N·m }]',
          `thread: M6x1, class: ${name}, drive: 10 AF, reuse: always, threads: dry, stages: [{ torque: ${torque} }]`,
        ]),
      ).map(({ rule, message }) => `${rule}: ${message}`);
    expect(of('A2-70', '5 N·m')).toEqual([]);
    expect(of('A2-50', '12 N·m')).toEqual([expect.stringMatching(/^torque\/cannot-hold: .*M6x1 of class A2-50/)]);
    expect(of('A2-60', '5 N·m')).toEqual([expect.stringMatching(/^fastener\/unknown-class: There is no property class A2-60.*A2-[58]0/)]);
  });

  it('what has none, as a hose clamp, says so, and is asked neither for one nor for how it is wetted', () => {
    const was = 'count: 1, thread: M6x1, class: "8.8", drive: 10 AF, reuse: always, threads: dry,';
    const shop = demoWith(['/shop/vehicles/sillane-16.yaml', was, 'count: 1, thread: none, drive: 10 AF, reuse: always,']);
    expect(found(shop)).toEqual([]);
    const [joint] = compiled(shop, '2046-timing-belt').joints.filter(({ group }) => group === 'battery-clamp-nut');
    expect([joint?.thread, joint?.threads]).toEqual([null, null]);
    const words = wordsOn(baySheet(compiled(shop, '2046-timing-belt'), measure));
    expect(words).toContain('1 × 10 AF');
    expect(words).not.toMatch(/× ?none/);
    const unsaid = demoWith(['/shop/vehicles/sillane-16.yaml', was, 'count: 1, drive: 10 AF, reuse: always, threads: dry,']);
    expect(found(unsaid).map(({ rule }) => rule)).toEqual(['fastener/no-thread']);
  });

  it('a plug only has to keep tight: what is little for a bolt is usual for it, and a slip of the unit is told of both', () => {
    const of = (name: string, torque: string) =>
      found(
        demoWith([
          '/shop/vehicles/sillane-16.yaml',
          'battery-clamp-nut: { name: battery clamp nut, count: 1, thread: M6x1, class: "8.8", drive: 10 AF, reuse: always, threads: dry, stages: [{ torque: 5 N·m }]',
          `battery-clamp-nut: { name: ${name}, count: 1, thread: M20x1.5, class: "5.8", drive: 30 AF, reuse: always, threads: dry, stages: [{ torque: ${torque} }]`,
        ]),
      ).flatMap(({ rule }) => (rule.startsWith('torque/') ? [rule] : []));
    expect([of('drain plug', '30 N·m'), of('clamp nut', '30 N·m')]).toEqual([[], ['torque/too-low']]);
    expect([of('drain plug', '35 lbf·in'), of('Ölablassschraube', '35 lbf·in')]).toEqual([['torque/too-low'], ['torque/too-low']]);
    expect(of('Ölablassschraube', '30 N·m')).toEqual([]);
    // What holds one is a bolt.
    for (const name of [
      'sensor bracket bolt',
      'exhaust pipe nuts',
      'injector clamp bolt',
      'spark plug cover screws',
      'Geberhalterschraube',
    ])
      expect(of(name, '30 N·m'), name).toEqual(['torque/too-low']);
    // By the name of the part that it holds, too.
    const thread = (part: string) =>
      found(
        demoWith(
          [
            '/shop/vehicles/sillane-16.yaml',
            'battery-clamp-nut: { name: battery clamp nut, count: 1, thread: M6x1, class: "8.8", drive: 10 AF, reuse: always, threads: dry, stages: [{ torque: 5 N·m }]',
            'thread: { count: 1, thread: M20x1.5, class: "5.8", drive: 19 AF, reuse: always, threads: dry, stages: [{ torque: 30 N·m }]',
          ],
          [
            '/shop/vehicles/sillane-16.yaml',
            'battery negative clamp, role: battery, fasteners: battery-clamp-nut',
            `${part}, fasteners: thread`,
          ],
        ),
      ).flatMap(({ rule }) => (/^(torque|fastener)\/(too-low|head-size)/.test(rule) ? [rule] : []));
    expect([thread('drain plug'), thread('clamp')]).toEqual([[], ['fastener/head-size', 'torque/too-low']]);
  });

  it.each(none)('%s does not exist, and that is told', (thread) => {
    expect(isOtherThread(thread)).toBe(false);
    expect(told(thread)).toEqual([expect.stringMatching(/^fastener\/bad-thread: There is no thread .*G1\/4, 1\/8-27 NPT/)]);
  });

  it.each(['M8x1.25', '7/16-14', '1/4-20 UNC', '#10-24', 'M8x1.25x30'])('%s is a bolt’s', (thread) => {
    expect([isOtherThread(thread), parseThread(thread) !== null]).toEqual([false, true]);
  });

  it('what is no thread at all is told with what can be written', () => {
    expect(told('half an inch')[0]).toMatch(/^schema\/wrong-form: .*G1\/4/);
  });
});
