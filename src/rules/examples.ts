import { exampleLibrary } from './example-library.js';

/** Short hands for the examples of the rules: what every document begins with. */
export const procedure = (body: string): string => `kind: procedure\nid: example\nname: Example work\nfor: sample-van\n${body}`;

/** One fastener group, with a part that it holds and the steps around it. */
export const fastener = (group: string): string =>
  procedure(`parts: { bracket: { seal: used-again, fasteners: bracket-bolts } }
fasteners:
  bracket-bolts: { ${group} } # <-
steps:
  - remove: bracket
  - clean: bracket
close-up:
  - fit: bracket
  - tighten: bracket-bolts
`);

/**
 * A flange whose nut is new each time, put on once or, after it came off again, twice.
 * @param first said of the nut at the first time
 * @param second said of it at the second; null where there is none
 */
export const flangeOn = (first: string, second: string | null): string => {
  const on = (said: string) => `  - fit: flange\n  - tighten: nut${said}\n`;
  const again = second === null ? '' : `  - remove: flange\n${on(second)}`;
  return procedure(`parts: { flange: { fasteners: nut } }
fasteners: { nut: { count: 1, thread: M12, class: "10", drive: 18 AF, reuse: never, item: pump, threads: dry, stages: [{ torque: 80 N·m }] } }
steps:
  - remove: flange
close-up:
${on(first)}${again}`);
};

/** A job for a small procedure. */
export const job = (body: string, work = 'steps:\n  - inspect: leaks\n'): Readonly<Record<string, string>> => ({
  'jobs/example-job.yaml': `kind: job\nid: example-job\ndate: "2026-11-25"\nvehicle: sample-van\nplate: "AB 12"\nwork: [example]\n${body}`,
  'procedures/example.yaml': procedure(work.includes('labour:') ? work : `labour: { all: { time: 0.2 h } }\n${work}`),
});

export const lookBehindTheCover = 'steps:\n  - remove: cover\nclose-up:\n  - fit: cover\n';

/** A battery taken off and put back as it should be; an example leaves a line of it out. */
export const batteryOff = (without = ''): string => {
  const steps =
    'steps:\n  - read: fault-codes\n  - switch-off: ignition\n  - wait: ignition-off\n  - disconnect: battery\nclose-up:\n  - connect: battery\n  - tighten: battery\n  - switch-on: ignition\n  - reset: clock\n';
  return procedure(without === '' ? steps : steps.replace(without, '').replace('disconnect: battery\n', 'disconnect: battery # <-\n'));
};

/** A fuel rail opened as it should be; an example leaves a line of it out. */
export const openTheRail = (without = ''): string => {
  const steps =
    'steps:\n  - wait: ignition-off\n  - remove: rail\n    warning: Fuel under pressure cuts through skin. Wait before opening.\n    wear: [gloves, eyes]\nclose-up:\n  - fit: rail\n';
  const shown = without === '' ? steps : steps.replace(without, '').replace('remove: rail\n', 'remove: rail # <-\n');
  return procedure(`parts: { rail: { name: fuel rail, hazard: fuel-pressure, opened-after: [ignition-off] } }\n${shown}`);
};

/** A battery pack opened as it should be; an example leaves a line of it out, which is told at a step. */
export const openThePack = (without = '', told = ''): string => {
  const all = `measurements:
  dead: { name: voltage at the service plug, limit: max 60 V, with: two-pole tester, outside: Stop; it is live. }
  insulation: { name: insulation of each pole to the body, limit: min 1 MΩ, with: insulation tester, outside: Stop; find the fault. }
parts: { pack: { name: battery pack cover, hazard: high-voltage, opened-after: [ignition-off, dead] } }
steps:
  - switch-off: ignition
  - isolate: high-voltage
  - lock: service-plug
  - wait: ignition-off
  - measure: dead
    second-person: tester proved before and after
    wear: [insulating-gloves]
    qualification: high voltage
  - remove: pack
    danger: Live parts kill. Prove dead first.
    wear: [insulating-gloves]
    qualification: high voltage
close-up:
  - fit: pack
  - unlock: service-plug
  - measure: insulation
  - energise: high-voltage
    qualification: high voltage
  - switch-on: ignition
`;
  return procedure(without === '' ? all : all.replace(without, '').replace(`${told}\n`, `${told} # <-\n`));
};

/** A job that refills a ready mixture into a system whose strength was measured before. */
export const refillReady = (measured: string): Readonly<Record<string, string>> => ({
  ...job(
    `measured: { strength: ${measured}\n`,
    'measurements: { strength: { name: strength, unit: "%", with: refractometer } }\nsteps:\n  - measure: strength\n  - open: tap\n  - drain: coolant\nclose-up:\n  - close: tap\n  - fill: coolant\n',
  ),
  'vehicles/sample-van.yaml': (exampleLibrary['vehicles/sample-van.yaml'] ?? '').replace(
    '    form: ready\n',
    '    form: ready\n    product: 50 %\n    target: 50 %\n    range: 45..55 %\n    strength: strength\n',
  ),
});
