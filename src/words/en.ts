import type { VerbName } from '../ledger/verbs.js';
import type { Moment, Section } from '../plan/plan.js';

/** The English words of steps and paper. A sentence is made from verb and objects, so that another language can make its own. */
const imperatives: Record<VerbName, string> = {
  remove: 'Remove {x}',
  fit: 'Fit {x}',
  renew: 'Renew {x}: old out, new in',
  disconnect: 'Disconnect {x}',
  connect: 'Connect {x}',
  open: 'Open {x}',
  close: 'Close {x}',
  drain: 'Drain {x}',
  fill: 'Fill {x}',
  raise: 'Raise {x}',
  lower: 'Lower {x}',
  loosen: 'Loosen {x}',
  tighten: 'Tighten {x}',
  're-torque': 'Re-torque {x}',
  support: 'Support {x}',
  unsupport: 'Take the support of {x} away',
  compress: 'Compress {x}',
  release: 'Release {x}',
  lock: 'Lock {x}',
  unlock: 'Unlock {x}',
  place: 'Put in {x}',
  clear: 'Take out {x}',
  'move-aside': 'Move {x} aside',
  return: 'Put {x} back in place',
  'switch-off': 'Switch off {x}',
  'switch-on': 'Switch on {x}',
  isolate: 'Isolate {x}',
  energise: 'Energise {x}',
  turn: 'Turn {x} by hand',
  crank: 'Crank {x}',
  start: 'Start {x}',
  stop: 'Stop {x}',
  run: 'Let {x} run',
  bleed: 'Bleed {x}',
  pressurise: 'Pressurise {x}',
  drive: 'Road test',
  'hand-over': 'Hand over {x}',
  clean: 'Clean {x}',
  inspect: 'Inspect {x}',
  measure: 'Measure {x}',
  choose: 'Choose {x}',
  check: 'Check the level of {x}',
  test: 'Test {x}',
  lubricate: 'Lubricate {x}',
  apply: 'Apply {x}',
  adjust: 'Adjust {x}',
  mark: 'Mark {x}',
  confirm: 'Confirm {x}',
  read: 'Read {x}',
  erase: 'Erase {x}',
  reset: 'Reset {x}',
  send: 'Send out {x}',
  wait: 'Wait {x}',
};

export const sentence = (verb: VerbName, objects: readonly string[]): string => imperatives[verb].replace('{x}', listed(objects));

/** a, b and c */
export const listed = (names: readonly string[]): string =>
  names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;

export const sectionWords: Record<Section, string> = {
  preparation: 'Preparations',
  work: 'The work',
  'close-up': 'Close-up',
  final: 'Finals',
};

export const momentWords: Record<Moment, string> = {
  running: 'Ignition on, engine running',
  ground: 'Back on the ground',
  cooled: 'After cooling down',
  road: 'Road test and last look',
};

export const afterWords: Readonly<Record<string, string>> = {
  run: 'after the engine has run',
  'heat-cycle': 'after warming up and cooling down',
  distance: 'after a distance',
};
