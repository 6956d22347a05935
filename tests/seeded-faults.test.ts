// One fault at a time in the golden example; the findings that a foreman expects, at their lines.
import { describe, expect, it } from 'vitest';
import { checkLibrary } from '../src/compile.js';
import { compiled, demoTexts, demoWith, found, libraryOf } from './helpers/shop.js';

const head = '/shop/procedures/head-gasket.yaml';
const vehicle = '/shop/vehicles/tarrock-35.yaml';
const rulesAt = (library: Parameters<typeof found>[0]) => found(library).map((one) => `${one.rule} @ ${one.line}`);

describe('seeded faults', () => {
  it('a drain that is never closed: at the line that opens it, with the fill that it endangers', () => {
    const all = found(
      demoWith([
        '/shipped/coolant-drained.yaml',
        '  - close: $openings\n    says: Old sealing washer off, new one on, where there is one; a tap is closed by hand.\n',
        '',
      ]),
    );
    expect(all.map((one) => `${one.rule} @ ${one.line}`)).toEqual(['ledger/left-open @ - open: $openings']);
    expect(all[0]?.message).toMatch(/coolant will be on the floor/);
    expect(all[0]?.related.join()).toMatch(/fill: coolant/);
  });

  it('what stands in a document that comes with the tool is told with those that need it, of several with each', () => {
    const plug = 'sump-plug: {';
    const places = (...changes: readonly (readonly [file: string, from: string, to: string])[]) =>
      checkLibrary(demoWith(...changes))
        .filter(({ rule, span }) => rule === 'reference/unknown-name' && span.file.path === 'baywright:procedures/engine-oil-drained.yaml')
        .map(({ related }) =>
          (related ?? []).map(({ span, message }) => `${span.file.path} ${span.file.text.slice(span.start, span.end)}: ${message}`),
        );
    expect(demoTexts()[vehicle]).toContain(plug);
    const here = 'procedures/head-gasket.yaml engine-oil-drained: needed by `head-gasket` here';
    const told = places([vehicle, plug, `other-${plug}`]);
    expect(told.length).toBeGreaterThan(0);
    const copy =
      'baywright:procedures/engine-oil-drained.yaml engine-oil-drained: ships with the tool; `baywright new preparation engine-oil-drained` makes a copy of your own';
    for (const one of told) expect(one).toEqual([here, copy]);
    const also = 'procedures/undertray-off.yaml engine-oil-drained: needed by `undertray-off` here';
    const both = places(
      [vehicle, plug, `other-${plug}`],
      ['/shop/procedures/undertray-off.yaml', 'needs: [', 'needs: [engine-oil-drained, '],
    );
    for (const one of both) expect(one).toEqual(expect.arrayContaining([here, also, copy]));
  });

  it('coolant that was measured cold before the engine ran: opened after that, it is hot again', () => {
    const procedure = '/shop/procedures/coolant-pump.yaml';
    const text = demoTexts()[procedure] ?? '';
    const told = (...steps: readonly string[]) =>
      found(
        libraryOf({
          ...demoTexts(),
          [procedure]: `${text.trimEnd()}\nfinal:\n  cooled:\n${steps.map((step) => `    - ${step}\n`).join('')}`,
        }),
      )
        .filter(({ rule }) => rule === 'hazard/opened-unsafe' || rule === 'hazard/no-caution')
        .map(({ rule, line, message }) => `${rule} @ ${line}: ${message}`);
    const open = 'open: expansion-cap';
    const shut = 'close: expansion-cap';
    const careful = `${open}\n      warning: Steam scalds. Cool to the touch, a cloth over it, slowly.\n      wear: [gloves, eyes]`;
    expect(text).not.toContain('final:');
    expect(told(open, shut)).toEqual([
      expect.stringMatching(/^hazard\/no-caution @ - open: expansion-cap/),
      expect.stringMatching(
        /^hazard\/opened-unsafe .* only after `measure: coolant-temperature`\. Put that before this step, and after “start: engine”: from there it is hot, or under pressure, again\.$/,
      ),
    ]);
    expect(told(careful, shut)).toHaveLength(1);
    expect(told('measure: coolant-temperature', careful, shut)).toEqual([]);
  });

  it('work that begins with the engine running, beside work that has the battery off: says what to do', () => {
    const told = (library: Parameters<typeof found>[0]) =>
      found(library).flatMap(({ rule, message }) => (rule === 'gate/too-early' ? [message] : []));
    const start = '  - start: engine\n    warning: Hands clear.\n  - stop: engine\n';
    // Its own needs have most of it open, and other work of the job the rest: it cannot come before its own needs.
    const pump = told(demoWith(['/shop/procedures/coolant-pump.yaml', 'steps:\n', `steps:\n${start}`]));
    expect(pump).toEqual([
      expect.stringMatching(/ and \d+ more\. Move it to `final: running:`, which comes after the steps that close them\./),
    ]);
    // Its own needs have the battery off.
    expect(told(demoWith(['/shop/procedures/clutch.yaml', 'steps:\n', `steps:\n${start}`]))).toEqual([
      expect.stringMatching(/Move it to `final: running:`, which comes after the steps that close them\./),
    ]);
    const both = demoTexts();
    const job = Object.entries(both).find(([, text]) => text.includes('work: [clutch]'))?.[0] ?? '';
    const other = `kind: procedure\nid: heard\nname: Listen\nfor: marn-20\nlabour: { listen: { says: listen, time: 0.1 h } }\nsteps:\n${start}`;
    const texts = {
      ...both,
      '/shop/procedures/heard.yaml': other,
      [job]: (both[job] ?? '').replace('work: [clutch]', 'work: [heard, clutch]'),
    };
    expect(told(libraryOf(texts))).toEqual([
      expect.stringMatching(
        /Preparations are done before any work\. .* as a preparation that `heard` needs: .* Or give this work a job of its own\.$/,
      ),
    ]);
    const after = { ...texts, [job]: (both[job] ?? '').replace('work: [clutch]', 'work: [clutch, heard]') };
    expect(told(libraryOf(after))).toEqual([
      expect.stringMatching(
        /`clutch`, which has that open, comes first in the `work:` of this job\. Put `heard` before it, or give it a job of its own\.$/,
      ),
    ]);
  });

  it('a drain plug that is left out in each of several rounds: each place once', () => {
    const all = found(demoWith(['/shop/procedures/gearbox-fluid.yaml', '  - close: gearbox-drain-plug\n    says: New seal.\n', '']));
    expect(all.map((one) => `${one.rule} @ ${one.line}`)).toEqual(['ledger/left-open @ - open: gearbox-drain-plug']);
    expect(all[0]?.message).toMatch(/The gearbox fluid will be on the floor/);
    // The engine is started twice: to pump the fluid round, and warm for the level.
    const gates = ['fill: gearbox-fluid', 'start: engine', 'start: engine', 'drive: vehicle'];
    expect(all[0]?.related).toEqual(gates.map((gate) => `“${gate}” must not be done while it is open`));
  });

  it('the pins never taken out after the proof of timing: one finding a pin, with the turning and the cranking', () => {
    const all = found(
      demoWith(
        ['/shop/procedures/timing-belt-off.yaml', '  - clear: [crank-pin, cam-pin]\n  - turn', '  - turn'],
        ['/shop/procedures/timing-belt-off.yaml', '  - clear: [crank-pin, cam-pin]\n', ''],
      ),
    );
    expect(all.every((one) => one.rule === 'ledger/temporary-left-in')).toBe(true);
    const pins = all.map((one) => one.message.match(/`(c\w+-pin)`/)?.[1]);
    expect(new Set(pins)).toEqual(new Set(['crank-pin', 'cam-pin']));
    for (const one of all) expect(one.related.join()).toMatch(/turn: engine.*(crank|start): engine/);
  });

  it('the bolts of the head never loosened in their order: at the step that takes the head off', () => {
    const without = rulesAt(
      demoWith([head, '  - loosen: head-bolts\n    order: reverse\n    passes: 3\n    at: max 40 °C\n', '  - wait: 5 min\n']),
    );
    expect(without).toContain('fastener/loosening-order @ - remove: cylinder-head');
    expect(rulesAt(demoWith([head, 'loosen: head-bolts', 'loosen: sprocket-bolt']))).toContain(
      'fastener/loosening-order @ - remove: cylinder-head',
    );
  });

  it('a joint that settles, and nobody tightens it again; or that is tightened again when the vehicle has not yet been driven', () => {
    const forgotten = found(demoWith([head, '    - re-torque: exhaust-nuts\n      at: max 40 °C\n', '']));
    expect(forgotten.map((one) => `${one.rule} @ ${one.line}`)).toEqual(['torque/re-torque-owed @ - fit: exhaust-manifold']);
    expect(forgotten[0]?.message).toMatch(
      /`heat-cycle` \(stage \d\), and no step does that\. Add `re-torque: exhaust-nuts` under `cooled:` of `final:`\./,
    );
    const early = found(
      demoWith([head, '    - re-torque: exhaust-nuts\n', '    - re-torque: exhaust-nuts\n    - re-torque: wheel-nuts\n']),
    );
    expect(early.map((one) => `${one.rule} @ ${one.line}`)).toEqual(['torque/nothing-to-re-torque @ - re-torque: wheel-nuts']);
  });

  it('the wrong joint tightened again when the engine is cold, or loosened for another', () => {
    expect(rulesAt(demoWith([head, 're-torque: exhaust-nuts', 're-torque: intake-bolts']))).toEqual([
      'torque/nothing-to-re-torque @ - re-torque: intake-bolts',
    ]);
    expect(found(demoWith([head, 're-torque: exhaust-nuts', 're-torque: intake-bolts']))[0]?.message).toMatch(
      /Is `exhaust-nuts` meant, which is tightened again after `heat-cycle`\?/,
    );
    const hub = '/shop/procedures/hub-bearing-adjustment.yaml';
    expect(rulesAt(demoWith([hub, 'loosen: adjusting-nut-left', 'loosen: adjusting-nut-right']))).toContain(
      'ledger/opened-twice @ - loosen: adjusting-nut-right',
    );
  });

  it.each([
    [
      'an adapter that is none',
      '/shop/shop.yaml',
      'type: adapter, name: 17 mm crowfoot, offset: 38 mm, angle: 0 deg',
      'type: special',
      'tool/adapter-incomplete',
    ],
    ['concentrate said to be ready', vehicle, 'form: concentrate', 'form: ready', 'fluid/mixture-incomplete'],
    ['coolant charged by the piece', '/shop/shop.yaml', 'per: L,', 'per: piece,', 'price/waste-unit'],
    [
      'wheel nuts that are not tightened again, with a stage for it',
      '/shop/vehicles/pellan-14.yaml',
      're-torque: needed',
      're-torque: not-needed',
      'torque/re-torque-unsaid',
    ],
    [
      'a slip for a distance that nobody says',
      '/shop/vehicles/pellan-14.yaml',
      'after: distance, distance: 80 km',
      'after: distance',
      'torque/re-torque-distance',
    ],
    [
      'a distance for what is due after a drive',
      '/shop/vehicles/pellan-14.yaml',
      'after: distance, distance',
      'after: run, distance',
      'torque/re-torque-distance',
    ],
    ['a truck on a lift that does not carry it', '/shop/shop.yaml', 'lift: 4500 kg', 'lift: 450 kg', 'hazard/lift-capacity'],
    [
      'a class that no bolt of one engine has',
      vehicle,
      'class: "10.9" }\n      - { when',
      'class: "109" }\n      - { when',
      'fastener/unknown-class',
    ],
    ['a thread that no bolt of one engine has', vehicle, 'thread: M11x1.5x145', 'thread: M11x15x145', 'fastener/bad-thread'],
    ['a drain in millilitres', vehicle, 'gives: 6.2 ±0.5 L', 'gives: 6.2 ±0.5 mL', 'fluid/capacity'],
    ['a van that weighs two kilograms', vehicle, 'mass: 2310 kg', 'mass: 2310 g', 'hazard/unlikely-mass'],
    [
      'wheels to be tightened again after eighty metres',
      '/shop/vehicles/pellan-14.yaml',
      'distance: 80 km',
      'distance: 80 m',
      'torque/re-torque-distance',
    ],
    ['an angle without its second digit', vehicle, 'angle: 90 deg', 'angle: 9 deg', 'torque/total-angle'],
    ['a digit too many on the odometer', '/shop/jobs/2041-head-gasket.yaml', '184320 km', '2843200 km', 'job/odometer'],
    ['a wrench of nine metres', '/shop/shop.yaml', 'length: 950 mm', 'length: 9500 mm', 'tool/unlikely-size'],
    ['a tax with a digit too many', '/shop/shop.yaml', 'standard: 20 %', 'standard: 200 %', 'price/unlikely-tax'],
    ['a wheel that is a belt', '/shop/vehicles/pellan-14.yaml', 'role: wheel', 'role: belt', 'parts/no-role'],
  ])('%s', (_, file, from, to, rule) => {
    expect(found(demoWith([file, from, to])).map((one) => one.rule)).toContain(rule);
  });

  it('heavy parts that one person lifts: not with a second, what lifts, or a support; of what comes with the tool, in a document of their own', () => {
    const told = (...changes: readonly (readonly [file: string, from: string, to: string])[]) =>
      found(demoWith(...changes)).flatMap(({ rule, line, message }) => (rule === 'hazard/lift' ? [`${line}: ${message}`] : []));
    const heavy = [
      '/shop/vehicles/marn-20.yaml',
      'name: dual-mass flywheel, mass: 14 kg',
      'name: dual-mass flywheel, mass: 34 kg',
    ] as const;
    const clutch = '/shop/procedures/clutch.yaml';
    const off = [clutch, '- remove: flywheel\n', '- remove: flywheel\n    with: [lift]\n'] as const;
    const alone = told(heavy);
    expect(alone).toHaveLength(2);
    expect(alone[0]).toMatch(
      /^- remove: flywheel: .* 34 kg, more than one person lifts in this shop \(25 kg\)\. Write in this step: `people: 2`/,
    );
    expect(told(heavy, off)).toEqual([alone[1]]);
    expect(told(heavy, [clutch, off[1], off[2].replace('lift', 'crank-pin')])).toHaveLength(2);
    const supported = [clutch, '  - remove: flywheel\n', '  - support: flywheel\n  - remove: flywheel\n'] as const;
    expect(told(heavy, supported)).toEqual([]);
    expect(told(heavy, supported, [clutch, '  - fit: flywheel\n', '  - unsupport: flywheel\n  - fit: flywheel\n'])).toEqual([alone[1]]);
    expect(told([vehicle, 'name: front right wheel,', 'name: front right wheel, mass: 40 kg,'])[0]).toMatch(
      /Write in a preparation `wheels-off` of your own, which takes the place of this one: `people: 2`/,
    );
  });

  it('the engine never turned by hand after the belt went on between the pins: where the belt goes on', () => {
    const turns = / {2}- turn: engine\n(?: {4}.*\n)*/g;
    for (const [belt, procedure] of [
      ['timing-belt', '/shop/procedures/timing-belt-off.yaml'],
      ['timing-belt', '/shop/procedures/sillane-belt-off.yaml'],
    ] as const) {
      const texts = demoTexts();
      const text = texts[procedure] ?? '';
      expect(text.match(turns)?.length, procedure).toBeGreaterThan(0);
      texts[procedure] = text.replace(turns, '');
      const all = found(libraryOf(texts)).filter((one) => one.rule === 'check/not-turned-by-hand');
      expect(all.map((one) => [one.place.split(':')[0], one.line.replace(/^- /, '')])).toEqual([
        [procedure.slice('/shop/'.length), `fit: ${belt}`],
      ]);
    }
  });

  it('a joint that needs the ground, tightened where nothing says that: once, and with what is missing', () => {
    const ground = '    - tighten: axle-nut\n      wheels: on-ground\n      says: Then stake the nut into the groove.\n';
    const all = (written: string) =>
      found(demoWith(['/shop/procedures/hub-bearing.yaml', ground, written])).map((one) => `${one.rule}: ${one.message.split('. ')[1]}`);
    expect(all('    - tighten: axle-nut\n')).toEqual(['torque/on-the-ground: Write `wheels: on-ground`.']);
    expect(all('    - inspect: leaks\n      says: No drip.\n')).toEqual([
      'torque/owed: Add `tighten: axle-nut-thread` with `wheels: on-ground`, after lowering.',
    ]);
  });

  it('a spring that is let go before what holds it comes off, or never compressed', () => {
    const mount = (...steps: readonly string[]) =>
      found(
        demoWith(
          ['/shop/vehicles/osprane-4x4.yaml', 'parts:\n', 'parts:\n  top-mount: { name: top mount, hazard: spring }\n'],
          ['/shop/procedures/pinion-seal.yaml', 'steps:\n', `steps:\n${steps.map((step) => `  - ${step}\n`).join('')}`],
        ),
      ).filter((one) => one.rule.startsWith('hazard/'));
    const off = 'remove: top-mount\n    warning: A spring that flies off kills.\n    wear: [gloves, eyes]';
    expect(mount('compress: spring', off, 'fit: top-mount', 'release: spring')).toEqual([]);
    for (const steps of [
      [off, 'fit: top-mount'],
      ['compress: spring', 'release: spring', off, 'fit: top-mount'],
    ])
      expect(mount(...steps).map((one) => `${one.rule} @ ${one.line}`)).toEqual(['hazard/spring-not-held @ - remove: top-mount']);
  });

  it('a spring and what holds it: let go on the bench, and compressed again before that is back', () => {
    const warned = '\n    warning: A spring that flies off kills.\n    wear: [gloves, eyes]';
    const [hold, release, mountOff, mountOn] = ['compress: spring', 'release: spring', `remove: top-mount${warned}`, 'fit: top-mount'];
    const [springOff, springOn] = ['remove: spring', 'fit: spring'];
    const strut = (...steps: readonly string[]) =>
      found(
        demoWith(
          [
            '/shop/vehicles/osprane-4x4.yaml',
            'parts:\n',
            'parts:\n  top-mount: { name: top mount }\n  spring: { name: coil spring, hazard: spring, held-by: [top-mount] }\n',
          ],
          ['/shop/procedures/pinion-seal.yaml', 'steps:\n', `steps:\n${steps.map((step) => `  - ${step}\n`).join('')}`],
        ),
      )
        .filter((one) => one.rule.startsWith('hazard/'))
        .map((one) => `${one.rule} @ ${one.line}`);
    expect(strut(hold, mountOff, release, springOff, springOn, hold, mountOn, release)).toEqual([]);
    expect(strut(hold, mountOff, springOff + warned, springOn, mountOn, release)).toEqual([]);
    expect(strut(hold, mountOff, release, 'renew: top-mount', hold, mountOn, release)).toEqual([]);
    expect(strut(mountOff, springOff, springOn, hold, mountOn, release)).toEqual(['hazard/spring-not-held @ - remove: top-mount']);
    expect(strut(hold, release, mountOff, mountOn)).toEqual(['hazard/spring-not-held @ - remove: top-mount']);
    expect(strut(hold, mountOff, release, mountOn)).toEqual(['hazard/spring-let-go-early @ - release: spring']);
    expect(strut(hold, mountOff, springOff, springOn, mountOn, release)).toEqual([
      'hazard/no-caution @ - remove: spring',
      'hazard/no-protection @ - remove: spring',
    ]);
  });

  describe('the hydraulics of the brakes, opened', () => {
    const pellan = '/shop/vehicles/pellan-estate.yaml';
    const brakes = '/shop/procedures/front-brakes.yaml';
    /** The left hose off and on again; its circuit, and what is done once it is on. */
    const hoseOff = (fluid: string, ...closeUp: readonly string[]) =>
      demoWith(
        [
          pellan,
          'fasteners:\n',
          `fluids:\n  ${fluid}, item: pad-set, capacity: 0.8 L, bleeding: 0.3 L, drains: [{ through: [hose-left], gives: 0.2 L }], waste: used-oil }\nfasteners:\n`,
        ],
        [pellan, 'parts:\n', `parts:\n  hose-left: { name: left hose, circuit: ${fluid.split(':')[0]} }\n`],
        [brakes, '  - remove: pads-left\n', '  - disconnect: hose-left\n  - remove: pads-left\n'],
        [
          brakes,
          'final:\n',
          `  - connect: hose-left\n${closeUp.map((step) => `  - ${step}\n    until: no bubbles for two strokes\n`).join('')}final:\n`,
        ],
      );

    it('and never bled: at the line that opens them', () => {
      const open = ['fluid/not-bled @ - disconnect: hose-left'];
      expect(rulesAt(hoseOff('brake-fluid: { spec: DOT 4'))).toEqual(open);
      expect(rulesAt(hoseOff('hydraulics: { spec: ISO 4925 class 6'))).toEqual(open);
      expect(rulesAt(hoseOff('clutch-fluid: { spec: S-2'))).toEqual(open);
      expect(rulesAt(hoseOff('gearbox-oil: { name: oil of the double-clutch gearbox, spec: S-3'))).toEqual([]);
    });

    it('are bled by their fluid or by their place, and not by what bleeds another fluid', () => {
      const both =
        'brake-fluid: { spec: DOT 4, item: pad-set, capacity: 0.8 L, bleeding: 0.3 L, drains: [{ through: [hose-left], gives: 0.2 L }], waste: used-oil }\n  coolant: { spec: S-1';
      const rules = (step: string) => rulesAt(hoseOff(both, step)).filter((one) => one.startsWith('fluid/'));
      expect(rules('bleed: brake-fluid')).toEqual([]);
      expect(rules('bleed: left-caliper')).toEqual([]);
      expect(rules('bleed: coolant')).toEqual(['fluid/not-bled @ - disconnect: hose-left']);
    });

    it('have the pedal pumped before the vehicle moves, as after a caliper, also one that is renewed', () => {
      const pedal =
        '    - inspect: brake-pedal\n      says: Pump the pedal until it is firm, before the vehicle moves.\n      warning: A pedal that is not firm does not stop the vehicle. Never move it before.\n';
      const without = (library: Parameters<typeof found>[0]) =>
        found(library)
          .filter((one) => one.rule === 'hazard/brake-pedal')
          .map((one) => one.line);
      expect(without(demoWith([brakes, pedal, '    - inspect: x\n']))).toEqual(['- remove: caliper-left']);
      expect(
        without(
          demoWith(
            [brakes, pedal, '    - inspect: x\n'],
            [brakes, '  - remove: caliper-left\n    says: Hang it up; the hose carries nothing.\n', '  - renew: caliper-left\n'],
          ),
        ),
      ).toEqual(['- renew: caliper-left']);
      // Said of the brake and not of its pedal.
      expect(without(demoWith([brakes, pedal, '    - test: front-brakes\n      says: Pump until firm before moving off.\n']))).toEqual([]);
      expect(without(demoWith([brakes, pedal, '    - test: front-brakes\n      says: No scraping.\n']))).toEqual([
        '- remove: caliper-left',
      ]);
      // What is towed has no pedal.
      expect(without(demoWith([brakes, pedal, '    - inspect: x\n'], [pellan, 'Quillet Pellan estate', 'Quillet caravan']))).toEqual([]);
    });
  });

  it('a belt whose role nobody says is in the way of a wrench, and the finding says what to write', () => {
    const library = demoWith([
      '/shop/vehicles/sillane-16.yaml',
      'timing-belt: { name: timing belt, role: belt, ',
      'timing-belt: { name: timing belt, ',
    ]);
    const told = found(library).filter(({ rule }) => rule === 'order/tightened-covered');
    expect(told.length).toBeGreaterThan(0);
    for (const { message } of told)
      expect(message).toMatch(
        /`timing-belt` .*If the wrench reaches past it, as past a belt or a chain, the profile says so: `role: belt`\.$/,
      );
  });

  describe('oil of an air conditioning', () => {
    const [profile, work] = ['/shop/vehicles/pellan-14.yaml', '/shop/procedures/receiver.yaml'];
    const receiver = 'circuit: refrigerant, fasteners: receiver-bolts, item: receiver, reuse: never, oil: 20 mL';
    const told = (...changes: readonly (readonly [file: string, from: string, to: string])[]) =>
      checkLibrary(demoWith(...changes)).flatMap(({ rule, severity, message }) =>
        rule === 'fluid/oil-unsaid' ? [[severity, message]] : [],
      );

    it('is asked for where a receiver goes in new, unless the step says that it comes filled', () => {
      const without = [profile, receiver, receiver.replace(', oil: 20 mL', '')] as const;
      expect(told(without)).toEqual([
        ['info', expect.stringMatching(/^`refrigerant-receiver` goes in new, and nothing says how much oil goes in with it\./)],
      ]);
      expect(told(without, [work, 'New seals, oiled', 'It comes filled with its oil. New seals, oiled'])).toEqual([]);
      expect(told()).toEqual([]);
    });

    it('counts only in the circuit of a charge', () => {
      expect(told([profile, receiver, receiver.replace('circuit: refrigerant, ', '')])).toContainEqual([
        'warning',
        '`refrigerant-receiver` is in no circuit of a charge, so its oil counts for nothing. Write `circuit:` with the name of the charge.',
      ]);
      expect(told([profile, receiver, receiver.replace('circuit: refrigerant', 'circuit: refrigernat')])).toEqual([]);
    });

    it('is a specification at the charge', () => {
      expect(told([profile, 'oil: PAG 46', 'oil: 120 mL'])).toEqual([
        [
          'warning',
          'Here stands which oil it is, as PAG 46, and “120 mL” is an amount. How much a renewed part takes is `oil:` at that part.',
        ],
      ]);
    });
  });

  it('the battery never connected: opened there, endangers the cranking', () => {
    const all = found(demoWith(['/shipped/battery-isolated.yaml', 'close-up:\n  - connect: $pole\n  - tighten: $pole\n', '']));
    expect(all.map((one) => `${one.rule} @ ${one.line}`)).toEqual(['ledger/left-open @ - disconnect: $pole']);
    expect(all[0]?.related.join()).toMatch(/crank: engine|start: engine/);
  });

  it('oil filled after cranking: the ledger balances, only the gate finds it', () => {
    const oil = '/shipped/engine-oil-drained.yaml';
    const all = rulesAt(
      demoWith(
        [oil, '  - fill: engine-oil\nfinal:\n  running:\n', 'final:\n  running:\n'],
        [oil, '  cooled:\n', '  cooled:\n    - fill: engine-oil\n'],
      ),
    );
    expect(all).toEqual(['gate/too-early @ - crank: engine']);
  });

  it('bore covers left in: one finding where they went in, with the head and the cranking', () => {
    const all = found(
      demoWith([head, '  - clear: bore-covers\n    id: covers-out\n    count: 4\n    says: Count four out; look into each bore.\n', '']),
    );
    expect(all.map((one) => one.rule)).toEqual(['ledger/temporary-left-in']);
    expect(all[0]?.related.join()).toMatch(/fit: cylinder-head.*crank: engine/);
  });

  it('nine head bolts', () => {
    expect(rulesAt(demoWith([head, '    id: head-tight\n', '    id: head-tight\n    count: 9\n']))).toEqual([
      'fastener/count-differs @ count: 9',
    ]);
  });

  it('a group without torque', () => {
    const all = found(demoWith([vehicle, ', gasket: true, stages: [{ torque: 10 N·m }] }\n  pump', ', gasket: true }\n  pump']));
    expect(all.map((one) => one.rule)).toEqual(['fastener/no-torque']);
    expect(all[0]?.message).toMatch(/outlet-bolts/);
  });

  it('80 kgf·m for 80 N·m', () => {
    const all = found(demoWith([vehicle, 'stages: [{ torque: 80 N·m }]', 'stages: [{ torque: 80 kgf.m }]']));
    expect(all.map((one) => one.rule)).toContain('torque/cannot-hold');
    expect(all.find((one) => one.rule === 'torque/cannot-hold')?.message).toMatch(/5\.8 times.*Did you mean 80 N·m/);
  });

  it('a swap of N·m and lbf·ft is not found by physics; a second value for the joint is', () => {
    expect(
      rulesAt(demoWith([vehicle, 'stages: [{ torque: 7 N·m }, { angle: 180 deg }]', 'stages: [{ torque: 7 lbf·ft }, { angle: 180 deg }]'])),
    ).toEqual([]);
    const second =
      'fasteners:\n  injector-clamp-bolts: { count: 4, thread: M8x1.25x60, class: "10.9", drive: T45, reuse: never, item: injector-clamp-bolt, threads: dry, stages: [{ torque: 7 lbf·ft }, { angle: 180 deg }] }\n\nlabour:\n  exhaust:';
    expect(found(demoWith([head, 'labour:\n  exhaust:', second])).map((one) => one.rule)).toEqual(['torque/two-values']);
  });

  it('a certificate that is out of date on the day of the job', () => {
    const all = found(
      demoWith(['/shop/shop.yaml', 'calibrated: "2026-06-15", due: "2027-06-15"', 'calibrated: "2025-06-15", due: "2026-06-15"']),
    ).filter((one) => one.place.includes('tarrock'));
    expect(all.map((one) => one.rule)).toEqual(['tool/no-wrench', 'tool/no-wrench']);
    expect(all.map((one) => one.line)).toEqual([
      '- { torque: 160 N·m, wheels: on-ground }',
      '- { torque: 160 N·m, after: distance, distance: 80 km, wheels: on-ground }',
    ]);
    expect(all[0]?.message).toMatch(/TW-3 covers it, but its calibration was due on 2026-06-15/);
  });

  it('a part number without quotes', () => {
    const all = found(demoWith(['/shop/parts/tarrock.yaml', 'number: "00412"', 'number: 00412']));
    expect(all[0]).toMatchObject({ rule: 'yaml/needs-quotes' });
    expect(all[0]?.message).toMatch(/"00412".*412/);
  });

  it('89 lbf·ft for an M6 bolt: did you mean lbf·in?', () => {
    const all = found(demoWith([vehicle, 'star, stages: [{ torque: 10 N·m }]', 'star, stages: [{ torque: 89 lbf·ft }]']));
    expect(all.find((one) => one.rule === 'torque/cannot-hold')?.message).toMatch(/Did you mean 89 lbf·in \(10\.1 N·m\)/);
  });

  it('a pump that is never tightened: one finding, where it was put on', () => {
    expect(rulesAt(demoWith(['/shop/procedures/coolant-pump.yaml', '  - tighten: pump-bolts\n', '']))).toEqual([
      'torque/owed @ - fit: coolant-pump',
    ]);
  });

  it('a nut that is loosened, and tightened again through some of its stages only', () => {
    const hub = '/shop/procedures/hub-bearing-adjustment.yaml';
    const nut = '  - tighten: adjusting-nut-left\n';
    const first = `${nut}    stages: [1]\n`;
    const all = found(demoWith([hub, nut, first]));
    expect(all.map(({ rule, line }) => `${rule} @ ${line}`)).toEqual(['torque/owed @ - tighten: adjusting-nut-left']);
    expect(all[0]?.message).toMatch(/is tightened again here, but not through stage 2\. Add `tighten: adjusting-nut-left`\.$/);
    expect(rulesAt(demoWith([hub, nut, `${first}${nut}    stages: [2]\n`]))).toEqual([]);
    // Never tightened at all, it is told as what stays open.
    const text = demoTexts()[hub] ?? '';
    expect(rulesAt(libraryOf({ ...demoTexts(), [hub]: text.replace(/^ {2}- tighten: adjusting-nut-left\n( {4}.*\n)*/m, '') }))).toContain(
      'ledger/left-open @ - loosen: adjusting-nut-left',
    );
  });

  it('one typing slip gives one finding', () => {
    expect(rulesAt(demoWith([head, '  - remove: rocker-cover\n', '  - remove: rokcer-cover\n']))).toEqual([
      'reference/unknown-name @ - remove: rokcer-cover',
    ]);
    expect(rulesAt(demoWith([head, '  - tighten: intake-bolts\n', '  - tigthen: intake-bolts\n']))).toEqual([
      'schema/unknown-key @ - tigthen: intake-bolts',
    ]);
  });

  it('what decides a later step is never measured, or never chosen', () => {
    for (const [from, rule] of [
      ['  - measure: head-flatness\n    with: [straight-edge]\n', 'measurement/not-measured @ when: { head-flatness: outside }'],
      [
        '  - measure: piston-protrusion\n    with: [dial-gauge]\n    says: Two readings a cylinder, above the gudgeon pin.\n',
        'measurement/not-measured @ - choose: gasket-grade',
      ],
      ['  - choose: gasket-grade\n    says: By the largest of the four means.\n', 'measurement/not-measured @ - renew: head-gasket'],
    ] as const)
      expect(rulesAt(demoWith([head, from, '']))).toEqual([rule]);
    const late = found(
      demoWith(
        [head, '  - measure: head-flatness\n    with: [straight-edge]\n', ''],
        [head, '  - clear: bore-covers\n    id: covers-out\n', '  - measure: head-flatness\n  - clear: bore-covers\n    id: covers-out\n'],
      ),
    );
    expect(late.map((one) => `${one.rule} ${one.message}`)).toEqual([
      'measurement/not-measured Whether this step is done depends on `head-flatness`, and no step before it says `measure: head-flatness`. Put that before it.',
    ]);
  });

  it('work beneath, and wheels off, on a vehicle that nobody has raised', () => {
    expect(new Set(rulesAt(demoWith(['/shop/procedures/clutch.yaml', 'needs: [vehicle-raised, ', 'needs: [']))).size).toBeGreaterThan(3);
    for (const one of rulesAt(demoWith(['/shop/procedures/clutch.yaml', 'needs: [vehicle-raised, ', 'needs: ['])))
      expect(one).toMatch(/^hazard\/beneath @ - /);
    expect(new Set(rulesAt(demoWith(['/shipped/wheels-off.yaml', 'needs: [vehicle-raised]', 'needs: [vehicle-received]'])))).toContain(
      'hazard/beneath @ - remove: $wheels',
    );
  });

  it('work of a job of which nobody says how long it takes', () => {
    const seal = '/shop/procedures/pinion-seal.yaml';
    const library = demoWith([seal, '\nlabour:\n', '\nx-labour:\n']);
    expect(rulesAt(library)).toEqual(['schema/unknown-key @ x-labour:']);
    const text = demoTexts()[seal] ?? '';
    const without = libraryOf({ ...demoTexts(), [seal]: text.replace(/^labour:\n( {2}.*\n)+/m, '') });
    expect(rulesAt(without)).toEqual(['labour/unsaid @ work: [pinion-seal]']);
    // Its preparations take all of it.
    const none = libraryOf({ ...demoTexts(), [seal]: text.replace(/^labour:\n( {2}.*\n)+/m, 'labour: {}\n') });
    expect(rulesAt(none)).toEqual([]);
  });

  it('what carries the engine comes off before it is supported, or is not back and tight before the support goes', () => {
    const belt = '/shop/procedures/belt-end-open.yaml';
    const text = demoTexts()[belt] ?? '';
    const step = (start: string) => {
      const all = new RegExp(`^  - ${start}\\n(?:    .*\\n)*`, 'm').exec(text)?.[0];
      if (!all) throw new Error(`no step ${start}`);
      return all;
    };
    const swapped = (a: string, b: string) => rulesAt(demoWith([belt, step(a) + step(b), step(b) + step(a)]));
    expect(swapped('support: engine', 'remove: engine-mount')).toEqual(['hazard/unsupported @ - remove: engine-mount']);
    expect(swapped('tighten: engine-mount-bolts', 'unsupport: engine')).toEqual(['gate/not-tightened @ - unsupport: engine']);
  });

  it('a pin that is not taken out before the engine turns is told there, and not where it goes in again', () => {
    const belt = '/shop/procedures/timing-belt-off.yaml';
    const told = found(demoWith([belt, '  - clear: [crank-pin, cam-pin]\n  - turn: engine', '  - turn: engine']));
    expect(told.map(({ rule, line }) => `${rule} @ ${line}`)).toEqual(['gate/too-early @ - turn: engine']);
    const twice = found(demoWith([belt, '  - loosen: tensioner-bolt\n', '  - place: cam-pin\n  - loosen: tensioner-bolt\n']));
    expect(twice.map(({ message }) => message)).toEqual([expect.stringMatching(/^`cam-pin` \(camshaft locking pin\) is in already\. /)]);
  });

  it('two procedures that each open the same are told once, in the job, with what to do', () => {
    const cover = (id: string) =>
      `kind: procedure\nid: ${id}\nname: ${id}\nfor: marn-20\nneeds: [vehicle-received]\nsteps:\n  - switch-off: ignition\n  - inspect: plugs\nclose-up:\n  - switch-on: ignition\n`;
    const library = libraryOf({
      ...demoTexts(),
      '/shop/procedures/one.yaml': cover('one'),
      '/shop/procedures/two.yaml': cover('two'),
      '/shop/jobs/both.yaml':
        'kind: job\nid: both\ndate: "2026-11-27"\nvehicle: marn-20\nplate: X\nodometer: 1 km\nwork: [one, two]\nfeatures: {}\n',
    });
    const told = found(library).filter(({ rule }) => /^(ledger|gate|order)/.test(rule));
    expect(
      told.map(({ rule, place, message }) => [rule, place.split(':')[0], message.replace(/`(one|two)` does/, '`other` does')]),
    ).toEqual([
      [
        'ledger/opened-twice',
        expect.stringMatching(/procedures.(one|two)\.yaml/),
        '`ignition` is off already. `other` does it as well. Put `switch-off: ignition` and `switch-on: ignition` into a preparation that both need: a job then does them once.',
      ],
    ]);
  });

  it('the whole vehicle is sent out when it is back on the ground and shut, and not before', () => {
    const hub = '/shop/procedures/hub-bearing.yaml';
    const text = demoTexts()[hub] ?? '';
    const sent = '    - send: vehicle\n      for: head-skim\n';
    const ground = /^ {2}ground:\n(?: {4}.*\n)*/m.exec(text)?.[0] ?? '';
    const library = demoWith([hub, ground, ground + sent]);
    expect(rulesAt(library).filter((one) => !one.startsWith('check/'))).toEqual([]);
    const steps = compiled(library, '2042-hub-bearing').steps.map(({ sentence }) => sentence);
    expect(steps.indexOf('Send out vehicle for head skim')).toBeGreaterThan(steps.indexOf('Lower vehicle'));
    const early = demoWith([hub, /^close-up:\n/m.exec(text)?.[0] ?? '', `close-up:\n${sent.replaceAll(/^ {2}/gm, '')}`]);
    expect(rulesAt(early).filter((one) => one.startsWith('gate/'))).toEqual(['gate/too-early @ - send: vehicle']);
  });

  it('a waste list with a mistake in it is told once, and not by every job', () => {
    const shop = demoTexts()['/shop/shop.yaml'] ?? '';
    const line = /^ {2}coolant: \{ name: .*\n/m.exec(shop)?.[0] ?? /^waste:\n( {2}\S+: .*\n)/m.exec(shop)?.[1] ?? '';
    const told = found(demoWith(['/shop/shop.yaml', line, line.replace('name:', 'title:')])).map(({ rule }) => rule);
    expect(told).toContain('schema/unknown-key');
    expect(told).not.toContain('price/unknown-waste');
  });

  it('a tester of high voltage that is proved only before or only after, and a belt whose tension nobody sets', () => {
    const isolated = '/shop/procedures/high-voltage-isolated.yaml';
    const without = (file: string, start: string) =>
      found(demoWith([file, new RegExp(`^  - ${start}\\n(?:    .*\\n)*`, 'm').exec(demoTexts()[file] ?? '')?.[0] ?? '', '']));
    for (const [start, when] of [
      ['measure: tester-before', 'before'],
      ['measure: tester-after', 'after'],
    ] as const) {
      const told = without(isolated, start).map(
        (one) => `${one.rule} @ ${one.line} ${/nobody proves the tester (\w+) it/.exec(one.message)?.[1]}`,
      );
      expect(told).toContain(`hazard/tester-not-proved @ - measure: proof-dead ${when}`);
    }
    for (const file of ['timing-belt-off', 'sillane-belt-off'])
      expect(without(`/shop/procedures/${file}.yaml`, 'adjust: belt-tensioner').map((one) => `${one.rule} @ ${one.line}`)).toEqual([
        'check/belt-not-tensioned @ - fit: timing-belt',
      ]);
  });

  it('a fluid that is drained or filled in through what is closed', () => {
    const fluid = '/shop/procedures/gearbox-fluid.yaml';
    const text = demoTexts()[fluid] ?? '';
    const fill = /^ {2}- fill: gearbox-fluid\n(?: {4}.*\n)*/m.exec(text)?.[0] ?? '';
    const close = /^ {2}- close: gearbox-level-plug\n(?: {4}.*\n)*/m.exec(text)?.[0] ?? '';
    expect(rulesAt(demoWith([fluid, fill + close, close + fill]))).toEqual(['fluid/nothing-open @ - fill: gearbox-fluid']);
    expect(found(demoWith([fluid, fill + close, close + fill]))[0]?.message).toMatch(
      /is filled in here through `gearbox-level-plug`, which is not open at this step/,
    );
    // A plug that no step opens, no step closes.
    const never = demoWith([fluid, /^ {2}- open: gearbox-level-plug\n(?: {4}.*\n)*/m.exec(text)?.[0] ?? '', ''], [fluid, close, '']);
    expect(rulesAt(never)).toContain('fluid/nothing-open @ - fill: gearbox-fluid');
    const drained = '/shipped/engine-oil-drained.yaml';
    const open = /^ {2}- open: \$plug\n(?: {4}.*\n)*/m.exec(demoTexts()[drained] ?? '')?.[0] ?? '';
    const drain = /^ {2}- drain: engine-oil\n(?: {4}.*\n)*/m.exec(demoTexts()[drained] ?? '')?.[0] ?? '';
    expect(rulesAt(demoWith([drained, open, ''], [drained, drain, drain + open]))).toContain('fluid/nothing-open @ - drain: engine-oil');
  });

  it('an engine that runs on after the same document has stopped it', () => {
    const fluid = '/shop/procedures/gearbox-fluid.yaml';
    const text = demoTexts()[fluid] ?? '';
    const run = /^ {2}- run: engine\n(?: {4}.*\n)*/m.exec(text)?.[0] ?? '';
    const all = found(demoWith([fluid, `${run}  - stop: engine\n`, `  - stop: engine\n${run}`]));
    expect(all.map((one) => `${one.rule} @ ${one.line} ${one.related.join()}`)).toEqual(['order/not-running @ - run: engine stopped here']);
  });

  it('a face that is cleaned after its part is back on, and a seal that is renewed behind what is on', () => {
    const plate = '/shop/procedures/coolant-plate.yaml';
    const text = demoTexts()[plate] ?? '';
    const clean = /^ {2}- clean: pack-cover\n(?: {4}.*\n)*/m.exec(text)?.[0] ?? '';
    const fit = /^ {2}- fit: pack-cover\n(?: {4}.*\n)*/m.exec(text)?.[0] ?? '';
    const told = checkLibrary(demoWith([plate, clean + fit, fit + clean])).map(({ rule }) => rule);
    expect(told).toContain('check/face-not-cleaned');
    expect(checkLibrary(demoWith()).map(({ rule }) => rule)).not.toContain('check/face-not-cleaned');
    const seal = rulesAt(
      demoWith(
        [head, '  - renew: camshaft-seal\n', ''],
        [head, '  - fit: rocker-cover\n', '  - renew: camshaft-seal\n  - fit: rocker-cover\n'],
      ),
    );
    expect(seal).toEqual(['order/covered @ - renew: camshaft-seal']);
  });

  it('a pan that comes off full, and a circuit that is charged before it is proved tight', () => {
    const gearbox = '/shop/procedures/automatic-gearbox-service.yaml';
    const one = (name: string, start: string) =>
      new RegExp(`^ {2}- ${start}.*\\n(?: {4}.*\\n)*`, 'm').exec(demoTexts()[name] ?? '')?.[0] ?? '';
    const [drain, pan] = [one(gearbox, 'drain: gearbox-fluid'), one(gearbox, 'remove: gearbox-pan')];
    expect(rulesAt(demoWith([gearbox, drain + pan, pan + drain]))).toEqual(['fluid/not-drained @ - remove: gearbox-pan']);
    const receiver = '/shop/procedures/receiver.yaml';
    const [test, vacuum] = [one(receiver, 'test: refrigerant'), one(receiver, 'measure: vacuum-hold')];
    expect(test.length * vacuum.length).toBeGreaterThan(0);
    expect(rulesAt(demoWith([receiver, test, '']))).toEqual([]);
    expect(rulesAt(demoWith([receiver, test, ''], [receiver, vacuum, '']))).toEqual(['fluid/not-proved-tight @ - fill: refrigerant']);
  });

  it('brakes that are renewed on one side alone, whatever the sides are called; on both sides, or of another axle, nothing', () => {
    const brakes = '/shop/procedures/front-brakes.yaml';
    const oneSide = (change: readonly [file: string, from: string, to: string]) =>
      rulesAt(demoWith(change)).filter((one) => one.startsWith('check/one-side'));
    const line = 'check/one-side @ work: [front-brakes]';
    expect(oneSide([brakes, '  - fit: disc-right\n    new: true\n', '  - fit: disc-right\n'])).toEqual([line]);
    const named = (left: string, right: string) => {
      const texts = Object.entries(demoTexts()).map(([name, text]): [string, string] => [
        name,
        text.replaceAll('disc-left', left).replaceAll('disc-right', right),
      ]);
      return rulesAt(libraryOf(Object.fromEntries(texts))).filter((one) => one.startsWith('check/one-side'));
    };
    for (const [left, right] of [
      ['fl-disc', 'fr-disc'],
      ['disc-lf', 'disc-rf'],
      ['scheibe-vl', 'scheibe-vr'],
      ['front-brake-disc-left', 'front-brake-disc-right'],
    ] as const)
      expect(named(left, right), left).toEqual([]);
    expect(named('fl-disc', 'rr-disc')).toEqual([line, line]);
  });

  it('a step that stands there twice: bolts turned through their angle again, a gasket bought again, a head sent out again', () => {
    const twice = (step: string) => rulesAt(demoWith([head, step, step + step]));
    const tight = '  - tighten: head-bolts\n';
    expect(demoTexts()[head]).toContain(tight);
    expect(twice(tight)).toEqual(['torque/tightened-again @ - tighten: head-bolts']);
    const severities = (step: string) =>
      checkLibrary(demoWith([head, step, step + step])).flatMap(({ rule, severity }) =>
        rule === 'torque/tightened-again' ? [severity] : [],
      );
    expect([severities(tight), severities('  - tighten: rocker-cover-bolts\n')]).toEqual([['error'], ['warning']]);
    // What a preparation takes off and puts back as well is told once, where it comes off again.
    const filter = (verb: string) => `  - ${verb}: oil-filter\n`;
    expect(
      rulesAt(
        demoWith(
          [head, 'steps:\n', `steps:\n${filter('remove')}`],
          [head, 'close-up:\n', `close-up:\n${filter('fit')}    new: true\n${filter('tighten')}`],
        ),
      ),
    ).toEqual(['ledger/opened-twice @ - remove: oil-filter']);
    expect(twice('  - renew: camshaft-seal\n')).toEqual(['parts/renewed-twice @ - renew: camshaft-seal']);
    expect(twice('  - send: cylinder-head\n    for: head-pressure-test\n')).toEqual(['parts/renewed-twice @ - send: cylinder-head']);
  });

  it('wheels that are tightened on the ground before they are snug', () => {
    const wheels = '/shipped/wheels-off.yaml';
    const [snug, ground] = ['    - tighten: $wheels\n', '    - tighten: $wheels\n      wheels: on-ground\n'];
    expect(new Set(rulesAt(demoWith([wheels, snug + ground, ground + snug])))).toContain('torque/out-of-turn @ - tighten: $wheels');
  });

  it('one name twice in a step: at the second, and nothing else', () => {
    const brakes = '/shop/procedures/front-brakes.yaml';
    const all = found(
      demoWith([brakes, 'measure: [disc-thickness-left, disc-thickness-right]', 'measure: [disc-thickness-left, disc-thickness-left]']),
    );
    expect(all.map((one) => one.message)).toContain(
      '`measure` names `disc-thickness-left` twice. Delete one of them, or write what was meant.',
    );
    expect(found(demoWith([head, '  - fit: cylinder-head\n', '  - fit: [cylinder-head, cylinder-head]\n'])).map((one) => one.rule)).toEqual(
      ['schema/out-of-range'],
    );
  });

  it('two fluids into one vessel, as they are written or as they are told to a preparation', () => {
    const rules = (...changes: readonly (readonly [string, string, string])[]) =>
      found(demoWith(...changes)).filter((one) => one.rule === 'step/one-action');
    const clutch = '/shop/procedures/clutch.yaml';
    const [written, ...none] = rules([clutch, '  - drain: gearbox-oil\n', '  - drain: [gearbox-oil, coolant]\n']);
    expect(none).toEqual([]);
    expect(written?.message).toBe(
      '`drain` takes one thing a step: each has its own tick, its own vessel and its own figure. Put `coolant` into a step of its own.',
    );
    const shipped = '/shipped/coolant-drained.yaml';
    const told = rules(
      [shipped, '  - drain: coolant', '  - drain: $fluids'],
      [shipped, '  openings:', '  fluids: { says: what comes out, default: [coolant, engine-oil] }\n  openings:'],
    );
    expect(new Set(told.map((one) => one.line))).toEqual(new Set(['- drain: $fluids']));
  });

  it('tools under a key that is none are told as that, and not that the shop has no torque wrench', () => {
    expect(rulesAt(demoWith(['/shop/shop.yaml', '\ntools:', '\ntorque-tools:']))).toEqual(['schema/unknown-key @ torque-tools:']);
  });

  it('no torque wrench in the whole shop is told once, where it lists its tools', () => {
    const texts = demoTexts();
    const shop = '/shop/shop.yaml';
    const without = (texts[shop] ?? '').replace(/^ {2}.*type: torque-wrench.*\n/gm, '');
    expect(without).not.toBe(texts[shop]);
    const all = found(libraryOf({ ...texts, [shop]: without })).filter((one) => one.rule === 'tool/no-wrench');
    expect(all.map((one) => one.line)).toEqual(['tools:']);
  });

  it('a size across flats that is that of a key, and the other way round', () => {
    const told = (drive: string) =>
      found(demoWith([vehicle, 'thread: M8x1.25, class: "8.8", drive: 13 AF', `thread: M8x1.25, class: "8.8", drive: ${drive}`])).flatMap(
        ({ rule, message }) => (rule === 'fastener/head-size' ? [message] : []),
      );
    expect(told('6 AF')).toEqual([expect.stringContaining('Or is it a socket head: `6 hex key`?')]);
    expect(told('13 hex key')).toEqual([expect.stringContaining('Or is it a hexagon outside: `13 AF`?')]);
    expect(told('19 AF')).toEqual([expect.stringContaining('Is the thread right?')]);
  });

  it('filled from below: the profile says so of what the words of the step name', () => {
    const shut = '  - close: axle-drain-plug\n    says: New seal.\n  - tighten: axle-drain-plug\n';
    const fill = '  - fill: axle-oil\n    says: Through the fill plug.\n';
    const toldOf = (says: string) =>
      found(demoWith(['/shop/procedures/pinion-seal.yaml', shut + fill, fill.replace('Through the fill plug.', says) + shut])).flatMap(
        ({ rule, message }) => (rule === 'gate/too-early' ? [message] : []),
      );
    const where = 'Where `axle-oil` goes in through `axle-drain-plug`, the profile says so there: `may-stay: [fill axle-oil]`.';
    expect(toldOf('Pump it in through the axle drain plug, from below.')).toEqual([expect.stringContaining(where)]);
    expect(toldOf('Through the fill plug.')).toEqual([expect.not.stringContaining('goes in through')]);
  });

  it('filled through what is open: where the profile names no fill point, that is asked for', () => {
    const messages = found(
      demoWith(['/shop/vehicles/marn-20.yaml', 'circuit: gearbox-oil, role: fill-point, ', 'circuit: gearbox-oil, ']),
    ).flatMap(({ rule, message }) => (rule === 'gate/too-early' ? [message] : []));
    expect(messages[0]).toMatch(/What `gearbox-oil` is filled through may stay open, if the profile says `role: fill-point` of it\.$/);
    const early = found(
      demoWith(
        ['/shipped/coolant-drained.yaml', '  - fill: coolant\n', '  - inspect: coolant\n'],
        ['/shipped/coolant-drained.yaml', '  - close: $openings\n', '  - fill: coolant\n  - close: $openings\n'],
      ),
    );
    expect(early.filter(({ rule }) => rule === 'gate/too-early').map(({ message }) => message)[0]).toMatch(/before this one\.$/);
  });

  it('wheel chocks stay while the engine runs, where the profile says so; so do stands', () => {
    const procedure = '/shop/procedures/hub-bearing-adjustment.yaml';
    const begun = [procedure, 'steps:\n', 'steps:\n  - start: engine\n    warning: Hands clear.\n  - stop: engine\n'] as const;
    const early = (library: ReturnType<typeof demoWith>) =>
      found(library).flatMap(({ rule, message }) => (rule === 'gate/too-early' ? [message] : []));
    expect(early(demoWith(begun))).toEqual([]);
    expect(early(demoWith(begun, ['/shop/vehicles/tolland-18.yaml', ', may-stay: [start engine]', '']))).toEqual([
      expect.stringMatching(
        /open or in place: `wheel-chocks`\. .* What does no harm there may stay, if the profile says so: `may-stay: \[start engine\]` at `wheel-chocks`\.$/,
      ),
    ]);
  });

  it('a parking brake is on when the vehicle comes in: it is switched off, and not let go', () => {
    const procedure = '/shop/procedures/hub-bearing.yaml';
    const messages = (verb: string) =>
      found(demoWith([procedure, 'steps:\n', `steps:\n  - ${verb}: parking-brake\n`])).flatMap(({ rule, message }) =>
        rule.startsWith('ledger/') ? [message] : [],
      );
    for (const verb of ['release', 'unlock'])
      expect(messages(verb)).toEqual([
        expect.stringMatching(/`switch-off: parking-brake`, and on again with `switch-on: parking-brake`\.$/),
      ]);
    expect(messages('return')).toEqual([]);
    expect(messages('lower')).toEqual([
      expect.stringMatching(/What is up when the vehicle comes in is made sure of with `confirm: parking-brake`\.$/),
    ]);
    const pressure = found(demoWith(['/shop/procedures/gearbox-fluid.yaml', 'steps:\n', 'steps:\n  - release: gearbox-fluid\n'])).filter(
      ({ rule }) => rule === 'ledger/not-open',
    );
    expect(pressure.map(({ message }) => message)).toEqual([
      expect.stringMatching(/Pressure is let off with `open:` .* proved with `measure:`\.$/),
    ]);
  });

  it('an airbag: off with the battery, after a wait that counts from there, and on before it', () => {
    const airbag = (steps: string, closeUp: string, safe = 'ignition-off') =>
      found(
        libraryOf({
          ...demoTexts(),
          '/shop/vehicles/sillane-16.yaml': (demoTexts()['/shop/vehicles/sillane-16.yaml'] ?? '').replace(
            'waits: {',
            'waits: { battery-off: 5 min,',
          ),
          '/shop/procedures/airbag.yaml': `kind: procedure
id: airbag
name: Airbag off and on
for: sillane-16
source: { document: Sillane book }
labour: { airbag: { says: airbag, time: 0.3 h } }
parts: { airbag: { name: airbag, hazard: restraint, opened-after: [${safe}] } }
steps:
  - read: fault-codes
  - switch-off: ignition
  - wait: ignition-off
${steps}    warning: It fires. Nobody in front of it.
    wear: [eyes]
    qualification: restraint systems
close-up:
${closeUp}final:
  running:
    - switch-on: ignition
    - reset: clock
`,
        }),
      ).flatMap(({ rule, place, line, message }) => (place.includes('airbag') ? [`${rule} @ ${line} ${message}`] : []));
    const off = '  - disconnect: battery-negative\n';
    const wait = '  - wait: ignition-off\n';
    const remove = '  - remove: airbag\n';
    const fit = '  - fit: airbag\n';
    const on = '  - connect: battery-negative\n  - tighten: battery-negative\n';
    expect(airbag(off + wait + remove, fit + on)).toEqual([]);
    expect(airbag(off + remove, fit + on)).toEqual([
      expect.stringMatching(/^hazard\/restraint-live @ - remove: airbag .* without a wait after the battery is off/),
    ]);
    expect(airbag(off + wait + remove, on + fit)).toEqual([
      expect.stringMatching(
        /^hazard\/restraint-live @ - fit: airbag .* goes on here with the battery connected\. Put this step before “connect: battery-negative”\.$/,
      ),
    ]);
    // Where the profile's own wait is nowhere, that alone is told.
    const unwaited = airbag(off + remove, fit + on, 'battery-off');
    expect(unwaited).toEqual([expect.stringMatching(/^hazard\/opened-unsafe @ - remove: airbag .* only after `wait: battery-off`/)]);
    // What isolates the high voltage, or the gas, leaves the airbag live.
    for (const other of ['high-voltage', 'gas', 'air-suspension']) {
      const told = airbag(`  - isolate: ${other}\n${wait}${remove}`, `${fit}  - energise: ${other}\n`);
      expect(told).toContainEqual(expect.stringMatching(/^hazard\/restraint-live @ - remove: airbag .* with the battery connected\./));
    }
    expect(airbag(`  - isolate: restraints\n${wait}${remove}`, `${fit}  - energise: restraints\n`)).toEqual([]);
    expect(airbag(remove, fit)).toEqual([
      expect.stringMatching(/^hazard\/restraint-live @ - remove: airbag .* with the battery connected\. Need `battery-isolated`/),
    ]);
  });
});

it('what is left locked, switched off or supported is told as that', () => {
  const told = (step: string) =>
    found(demoWith(['/shop/procedures/clutch.yaml', 'steps:\n', `steps:\n  - ${step}\n`])).flatMap(({ rule, message }) =>
      rule === 'ledger/temporary-left-in' ? [message] : [],
    );
  expect(told('switch-off: start-stop')).toEqual([
    expect.stringMatching(/^`start-stop` is switched off here and never switched on again\. Add/),
  ]);
  expect(told('lock: crankshaft')).toEqual([
    expect.stringMatching(/^`crankshaft` is locked here and never unlocked again\. Add `unlock: crankshaft`/),
  ]);
  expect(told('compress: spring')).toEqual([
    expect.stringMatching(/^`spring` is compressed here and never released again\. Add `release: spring`/),
  ]);
  expect(told('support: engine')).toEqual([
    expect.stringMatching(/^`engine` is supported here, and the support is never taken away\. Add `unsupport: engine`/),
  ]);
});

it('a level is checked with the engine and the vehicle as the profile says', () => {
  const told = (...changes: (readonly [file: string, from: string, to: string])[]) =>
    found(demoWith(...changes)).flatMap(({ rule, message }) => (rule === 'fluid/level-condition' ? [message] : []));
  const clutch = '/shop/procedures/clutch.yaml';
  const start = '  - start: engine\n    warning: Hands clear.\n';
  expect(told([clutch, '  - check: gearbox-oil\n', `${start}  - check: gearbox-oil\n`])).toEqual([
    expect.stringMatching(
      /^The level of `gearbox-oil` is right only with the engine off, and here it runs since “start: engine”\. Put `stop: engine` before this step, or this step before “start: engine”\.$/,
    ),
  ]);
  expect(told([clutch, '  - check: gearbox-oil\n', `${start}  - stop: engine\n  - check: gearbox-oil\n`])).toEqual([]);
  const fluid = '/shop/procedures/gearbox-fluid.yaml';
  expect(told([fluid, '    - check: gearbox-fluid\n', '    - stop: engine\n    - check: gearbox-fluid\n'])).toEqual([
    expect.stringMatching(
      /only with the engine running, and nothing before this step starts it\. Put it into `final: running:`, behind `start: engine`\.$/,
    ),
  ]);
  const plate = '/shop/procedures/coolant-plate.yaml';
  expect(told([plate, '    - check: battery-coolant\n      wheels: on-ground\n', '    - check: battery-coolant\n'])).toEqual([
    expect.stringMatching(/only on the ground, and here the vehicle is up since “raise: vehicle”\. .*`wheels: on-ground`\.$/),
  ]);
  const seal = '/shop/procedures/pinion-seal.yaml';
  const check = /^ {2}- check: axle-oil\n(?: {4}.*\n)*/m.exec(demoTexts()[seal] ?? '')?.[0] ?? '';
  const moved = found(
    libraryOf({
      ...demoTexts(),
      [seal]: (demoTexts()[seal] ?? '')
        .replace(check, '')
        .replace(/\n?$/, '\nfinal:\n  cooled:\n    - check: axle-oil\n      says: Oil just runs out.\n'),
    }),
  ).flatMap(({ rule, message }) => (rule === 'fluid/level-condition' ? [message] : []));
  expect(moved).toEqual([expect.stringMatching(/only level on the lift, and here the vehicle is down since “lower: vehicle”\./)]);
});

describe('an order that hurts', () => {
  const receiver = '/shop/procedures/receiver.yaml';
  const belt = '/shop/procedures/timing-belt-off.yaml';
  const axle = '/shop/procedures/front-axle-raised.yaml';
  const isolated = '/shop/procedures/high-voltage-isolated.yaml';
  /** A step of a document, with all that it says. */
  const step = (name: string, head: string): string => {
    const text = demoTexts()[name] ?? '';
    const from = text.indexOf(head);
    const rest = text.slice(from + head.length);
    return head + rest.slice(0, rest.search(/\n *- |\n[a-z]/) + 1);
  };
  const pins = '  - place: [crank-pin, cam-pin]\n';
  const removed = '  - remove: timing-belt\n';
  const fitted = step(belt, '  - fit: timing-belt');
  const supported = step(axle, '  - support: front-axle');
  const wheels = step(axle, '  - remove: $wheels');
  const off = step(isolated, '  - switch-off: ignition');
  const isolate = step(isolated, '  - isolate: high-voltage');
  const drain = step(receiver, '  - drain: refrigerant');
  const measured = step(receiver, '  - measure: [refrigerant-recovered');
  const opened = step(receiver, '  - remove: refrigerant-receiver');
  const insulation = step('/shop/procedures/coolant-plate.yaml', '    - measure: insulation');
  const clutch = '/shop/procedures/clutch.yaml';
  const tightened = step(clutch, '  - tighten: cover-bolts');
  const mandrelOut = step(clutch, '  - clear: clutch-mandrel');
  const checked = step(clutch, '  - check: gearbox-oil');
  const shut = step(clutch, '  - close: gearbox-fill-plug');
  const head = '/shop/procedures/head-gasket.yaml';
  const headOn = step(head, '  - fit: cylinder-head');
  const studsOut = step(head, '  - clear: guide-studs');
  const tight = step(receiver, '  - tighten: refrigerant-receiver');
  const test = step(receiver, '  - test: refrigerant');
  const live = step(isolated, '    - energise: high-voltage');
  const ignitionOn = '    - switch-on: ignition\n';
  const lock = step(isolated, '  - lock: service-plug');
  const raised = step(axle, '  - raise: front-axle');
  it.each([
    [
      'a circuit is opened while refrigerant is in it',
      receiver,
      drain + measured + opened,
      measured + opened + drain,
      'hazard/opened-unsafe @ - remove: refrigerant-receiver',
    ],
    [
      'a circuit is opened before it is known what came out',
      receiver,
      measured,
      '',
      'hazard/opened-unsafe @ - remove: refrigerant-receiver',
    ],
    [
      'a belt comes off before its pin is in',
      belt,
      `${pins}  - loosen: tensioner-bolt\n${removed}`,
      `  - loosen: tensioner-bolt\n${removed}${pins}`,
      'order/belt-unpinned @ - remove: timing-belt',
    ],
    [
      'a belt goes on when its pin is out',
      belt,
      fitted,
      `  - clear: [crank-pin, cam-pin]\n${fitted}${pins}`,
      'order/belt-unpinned @ - fit: timing-belt',
    ],
    [
      'fluid is drained from a gearbox whose engine runs',
      '/shop/procedures/gearbox-fluid.yaml',
      '  - stop: engine\nfinal:',
      'final:',
      'hazard/engine-runs @ - drain: gearbox-fluid',
    ],
    ['wheels come off an axle on the jack', axle, supported + wheels, wheels + supported, 'hazard/on-the-jack @ - remove: $wheels'],
    ['the service plug is pulled under load', isolated, off + isolate, isolate + off, 'hazard/high-voltage @ - remove: pack-cover'],
    [
      'nobody measures the insulation',
      '/shop/procedures/coolant-plate.yaml',
      insulation,
      '',
      'hazard/insulation-not-measured @ - energise: high-voltage',
    ],
    [
      'the disc is tightened without its mandrel',
      clutch,
      tightened + mandrelOut,
      mandrelOut + tightened,
      'order/not-in-place @ - tighten: cover-bolts',
    ],
    ['the head goes on without its guide studs', head, headOn + studsOut, studsOut + headOn, 'order/not-in-place @ - fit: cylinder-head'],
    ['a circuit is tested before it is tight', receiver, tight + test, test + tight, 'gate/not-tightened @ - test: refrigerant'],
    [
      'what came out is read before it is out',
      receiver,
      drain + measured,
      measured + drain,
      'hazard/opened-unsafe @ - remove: refrigerant-receiver',
    ],
    [
      'high voltage comes on with the ignition on',
      isolated,
      live + ignitionOn,
      ignitionOn + live,
      'gate/interlock @ - energise: high-voltage',
    ],
    ['the lock comes before what it locks', isolated, isolate + lock, lock + isolate, 'hazard/high-voltage @ - remove: pack-cover'],
    ['a level is checked through a plug that is shut', clutch, checked + shut, shut + checked, 'fluid/checked-shut @ - check: gearbox-oil'],
    ['an axle is supported before it goes up', axle, raised + supported, supported + raised, 'hazard/on-the-jack @ - remove: $wheels'],
  ])('%s', (_what, name, from, to, expected) => {
    expect(rulesAt(demoWith([name, from, to]))).toContain(expected);
  });

  it('what a preparation that is needed takes off is taken off again: both steps are to go', () => {
    const drained = '/shop/procedures/oil-and-filter.yaml';
    const [told, ...rest] = found(
      libraryOf({
        ...demoTexts(),
        [drained]:
          'kind: procedure\nid: oil-and-filter\nname: Change the oil and its filter\nfor: tarrock-35\nsource: { document: Tarrock engine book, section: 03-1 }\ncustomer: { what: New oil and filter., why: They are due. }\nneeds: [engine-oil-drained]\nlabour: { all: { time: 0.3 h } }\nsteps:\n  - remove: oil-filter\nclose-up:\n  - fit: oil-filter\n    new: true\n  - tighten: oil-filter\n',
      }),
    ).filter(({ place }) => place.startsWith('procedures/oil-and-filter'));
    expect(rest).toEqual([]);
    expect([told?.rule, told?.line]).toEqual(['ledger/opened-twice', '- remove: oil-filter']);
    expect(told?.message).toContain(
      '`engine-oil-drained`, which `oil-and-filter` needs, does `remove: oil-filter` and `fit: oil-filter`. Delete both here',
    );
  });

  it('what is taken off and then renewed, which takes it off too: told once, with both ways to write it', () => {
    const [left, ...rest] = found(
      demoWith(['/shop/procedures/clutch.yaml', '  - place: flywheel-lock\n', '  - remove: release-bearing\n  - place: flywheel-lock\n']),
    );
    expect(rest).toEqual([]);
    expect([left?.rule, left?.line]).toEqual(['ledger/left-open', '- remove: release-bearing']);
    expect(left?.message).toContain('write `fit: release-bearing` with `new: true` in place of that; else delete it here.');
  });

  it('a fill plug that is opened after the drain is told; one that nobody opens is told as that', () => {
    const name = '/shop/procedures/clutch.yaml';
    const plug = step(name, '  - open: gearbox-fill-plug');
    const remove = step(name, '  - remove: starter');
    const open = ['fluid/fill-plug-later @ - open: gearbox-drain-plug'];
    expect(rulesAt(demoWith([name, plug, ''], [name, remove, remove + plug]))).toEqual(open);
    // The oil runs as soon as its drain is open, whenever the sheet says to let it.
    const drain = step(name, '  - drain: gearbox-oil');
    expect(rulesAt(demoWith([name, plug, ''], [name, drain, plug + drain]))).toEqual(open);
    expect(rulesAt(demoWith([name, plug, '']))).not.toContain('fluid/fill-plug-later @ - drain: gearbox-oil');
  });
});

it('what a profile leaves out is asked for: a mount that carries nothing, a pack without its hazard, joints without fasteners', () => {
  const without = (file: string, from: string, to: string) => [...new Set(rulesAt(demoWith([file, from, to])))];
  expect(without('/shop/vehicles/marn-20.yaml', ' carries: gearbox,', '')).toEqual([]);
  expect(
    rulesAt(
      demoWith(
        ['/shop/vehicles/marn-20.yaml', ' carries: gearbox,', ''],
        [
          '/shop/procedures/clutch.yaml',
          / {2}- support: gearbox\n(?: {4}.*\n)*/.exec(demoTexts()['/shop/procedures/clutch.yaml'] ?? '')?.[0] ?? '',
          '',
        ],
        ['/shop/procedures/clutch.yaml', '  - unsupport: gearbox\n', ''],
      ),
    ),
  ).toEqual(['hazard/unsupported @ - remove: gearbox-mount']);
  expect(without('/shop/vehicles/liddel-e.yaml', 'hazard: high-voltage, opened-after: [high-voltage, proof-dead], ', '')).toEqual([
    'hazard/unsaid @ - remove: pack-cover',
  ]);
  expect(without('/shop/vehicles/sillane-16.yaml', ', item: coolant-pump', '')).toContainEqual(expect.stringMatching(/^parts\/no-item @ /));
  const profile = demoTexts()['/shop/vehicles/pellan-estate.yaml'] ?? '';
  const carrier = /carrier-left: \{.*?(, fasteners: [\w-]+)/.exec(profile);
  expect(
    without('/shop/vehicles/pellan-estate.yaml', carrier?.[0] ?? '', (carrier?.[0] ?? '').replace(carrier?.[1] ?? '', '')),
  ).toContainEqual(expect.stringMatching(/^fastener\/nothing-to-tighten @ - tighten: carrier-left/));
});

it('what a step renews is on again: a step that fits it then is told with how to write the two', () => {
  const told = found(
    demoWith(['/shop/procedures/clutch.yaml', '  - renew: release-bearing\n', '  - renew: release-bearing\n  - fit: release-bearing\n']),
  ).flatMap(({ rule, message }) => (rule === 'ledger/not-open' ? [message] : []));
  expect(told).toEqual([
    expect.stringContaining(
      '`renew: release-bearing` takes it off and puts the new one on. Delete this step, or write `remove: release-bearing`',
    ),
  ]);
});

it('a valve that is shut for the work and opened again: how to write that; where nothing opens it again, only that it is not open', () => {
  const clutch = '/shop/procedures/clutch.yaml';
  const valve = 'parts: { valve: { name: valve of the air tank } }\nneeds:';
  const first = '  - open: gearbox-fill-plug';
  const told = (close: string, open: string) =>
    found(demoWith([clutch, 'needs:', valve], [clutch, first, `${close}${first}`], [clutch, 'close-up:\n', `close-up:\n${open}`])).map(
      ({ rule, message }) => `${rule} ${/`switch-off: valve`.*`switch-on: valve`/.test(message)}`,
    );
  expect(told('  - close: valve\n', '  - open: valve\n')).toContain('ledger/not-open true');
  expect(told('  - close: valve\n', '')).toContain('ledger/not-open false');
  expect(told('  - switch-off: valve\n', '  - switch-on: valve\n')).toEqual([]);
});

it('what a preparation calls by a name that the vehicle has not: how to say its own where it is needed', () => {
  const cap = 'expansion-cap: {';
  const messages = (...changes: readonly (readonly [string, string, string])[]) =>
    found(demoWith(...changes)).flatMap(({ rule, message }) => (rule === 'reference/unknown-name' ? [message] : []));
  expect(demoTexts()[vehicle]).toContain(cap);
  expect(messages([vehicle, cap, 'tank-cap: {']).join()).toContain(
    'where the preparation is needed: `coolant-drained: { cap: tank-cap }`.',
  );
  // By what it is for, where that is one; else it is left to people.
  const both = messages([vehicle, cap, 'other-cap: { name: other cap, role: fill-point, circuit: coolant }\n  tank-cap: {']);
  expect(both.join()).toContain('`coolant-drained: { cap: NAME }`.');
  expect(both).toHaveLength(1);
  expect(messages([vehicle, 'battery-negative: {', 'minus: {']).join()).toContain('`battery-isolated: { pole: minus }`.');
  const needed = messages([head, 'openings: [radiator-drain, block-plug]', 'openings: [radiator-drane, block-plug]']).join();
  expect(needed).toContain('radiator-drane');
  expect(needed).not.toContain('NAME');
});

it('what hangs in straps is carried before they come off, where it is heavy or a tank', () => {
  const of = (tank: string, strap: string, support = '') =>
    rulesAt(
      demoWith(
        [
          '/shop/vehicles/marn-20.yaml',
          'parts:\n',
          `parts:\n  strap: { name: ${strap}, seal: used-again }\n  tank: { ${tank}, beneath: true, behind: [strap] }\n`,
        ],
        ['/shop/procedures/clutch.yaml', 'steps:\n', `steps:\n${support}  - remove: [strap]\n  - remove: [tank]\n`],
        [
          '/shop/procedures/clutch.yaml',
          'close-up:\n',
          `close-up:\n  - fit: [tank]\n  - fit: [strap]\n${support && '  - unsupport: tank\n'}`,
        ],
      ),
    ).filter((one) => one.startsWith('hazard/unsupported'));
  const told = ['hazard/unsupported @ - remove: [strap]'];
  for (const [tank, strap] of [
    ['name: reservoir, mass: 14 kg', 'strap'],
    ['name: fuel tank', 'front strap'],
    ['name: Kraftstofftank', 'Spannband'],
  ] as const) {
    expect(of(tank, strap), tank).toEqual(told);
    expect(of(tank, strap, '  - support: tank\n'), tank).toEqual([]);
  }
  expect(of('name: washer tank, mass: 2 kg', 'strap')).toEqual([]);
});

it('a set that is ordered twice is asked about, but not one that its name says is for one side', () => {
  const of = (name: string) =>
    found(
      demoWith(
        ['/shop/vehicles/pellan-estate.yaml', 'item: pad-set }', 'item: pad-set, count: 2 }'],
        [
          '/shop/parts/pellan-estate.yaml',
          /pad-set: \{ name: [^,}]+/.exec(demoTexts()['/shop/parts/pellan-estate.yaml'] ?? '')?.[0] ?? '',
          `pad-set: { name: ${name} `,
        ],
      ),
    ).map(({ rule }) => rule);
  expect(of('front pad set')).toContain('parts/several-sets');
  for (const name of ['pad set of one side', 'pad set per wheel', 'Belagsatz einer Seite'])
    expect(of(name), name).not.toContain('parts/several-sets');
});
