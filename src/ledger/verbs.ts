import type { NameKind } from '../library/scope.js';
import type { Step } from '../schema/generated/types.js';

/**
 * The verbs of steps: what each does to the ledger. This table is the one place; the walk, the gates, the words on
 * paper and the checks all read it. A verb that is not here does not exist.
 */
export interface Verb {
  /** The ledger line that it opens or closes, named after the verb that opens it. */
  readonly opens?: Pair | undefined;
  readonly closes?: Pair | undefined;
  /** What its objects are. `free` takes any name. */
  readonly objects: readonly NameKind[] | 'free';
  /** It may name the whole vehicle besides, and is a gate then. */
  readonly whole?: 'vehicle' | undefined;
  /** It has conditions on the ledger of its own (gates.ts). */
  readonly gate?: true | undefined;
  /** It needs what covers the part to be off already. */
  readonly access?: true | undefined;
}

export type Pair =
  | 'remove'
  | 'disconnect'
  | 'open'
  | 'drain'
  | 'raise'
  | 'loosen'
  | 'support'
  | 'compress'
  | 'lock'
  | 'place'
  | 'move-aside'
  | 'switch-off'
  | 'isolate';

/** Lines of these pairs are foreign objects and interlocks; the others are states of the vehicle. */
export const temporaryPairs: ReadonlySet<Pair> = new Set<Pair>(['support', 'compress', 'lock', 'place', 'switch-off', 'isolate']);

/** What has a line of these pairs is an opening: its joints are undone, and what is in it comes out. */
export const openingPairs: ReadonlySet<Pair> = new Set<Pair>(['remove', 'disconnect', 'open']);

/** Of what has a line of these pairs is off, and what lies behind it can be reached; what is raised or loosened is still on. */
export const offPairs: ReadonlySet<Pair> = new Set<Pair>([...openingPairs, 'move-aside']);

const part: readonly NameKind[] = ['part'];
const joint: readonly NameKind[] = ['fastener', 'part'];

export const verbs = {
  remove: { opens: 'remove', objects: part, access: true },
  fit: { closes: 'remove', objects: part },
  renew: { objects: part, access: true },
  disconnect: { opens: 'disconnect', objects: part, access: true },
  connect: { closes: 'disconnect', objects: part, gate: true },
  open: { opens: 'open', objects: part, access: true },
  close: { closes: 'open', objects: part },
  drain: { opens: 'drain', objects: ['fluid', 'charge'] },
  fill: { closes: 'drain', objects: ['fluid', 'charge'], gate: true },
  raise: { opens: 'raise', objects: 'free' },
  lower: { closes: 'raise', objects: 'free', gate: true },
  loosen: { opens: 'loosen', objects: joint },
  tighten: { closes: 'loosen', objects: joint },
  're-torque': { objects: joint },
  support: { opens: 'support', objects: 'free' },
  unsupport: { closes: 'support', objects: 'free', gate: true },
  compress: { opens: 'compress', objects: 'free' },
  release: { closes: 'compress', objects: 'free' },
  lock: { opens: 'lock', objects: 'free' },
  unlock: { closes: 'lock', objects: 'free' },
  place: { opens: 'place', objects: ['temporary'] },
  clear: { closes: 'place', objects: ['temporary'] },
  'move-aside': { opens: 'move-aside', objects: part, access: true },
  return: { closes: 'move-aside', objects: part },
  'switch-off': { opens: 'switch-off', objects: 'free' },
  'switch-on': { closes: 'switch-off', objects: 'free' },
  isolate: { opens: 'isolate', objects: 'free' },
  energise: { closes: 'isolate', objects: 'free', gate: true },
  turn: { objects: 'free', gate: true },
  crank: { objects: 'free', gate: true },
  start: { objects: 'free', gate: true },
  stop: { objects: 'free' },
  run: { objects: 'free' },
  bleed: { objects: 'free' },
  pressurise: { objects: ['fluid', 'charge'], gate: true },
  drive: { objects: 'free', gate: true },
  'hand-over': { objects: 'free', gate: true },
  clean: { objects: 'free' },
  inspect: { objects: 'free' },
  measure: { objects: ['measurement'] },
  choose: { objects: ['choice'] },
  check: { objects: 'free' },
  test: { objects: 'free' },
  lubricate: { objects: 'free' },
  apply: { objects: 'free' },
  adjust: { objects: 'free' },
  mark: { objects: 'free' },
  confirm: { objects: 'free' },
  read: { objects: 'free' },
  erase: { objects: 'free' },
  reset: { objects: 'free' },
  send: { objects: part, whole: 'vehicle' },
  wait: { objects: 'free' },
} as const satisfies Record<string, Verb>;

export type VerbName = keyof typeof verbs;

export const verbNames = Object.keys(verbs) as readonly VerbName[];
const known: ReadonlySet<string> = new Set(verbNames);
export const isVerb = (name: string): name is VerbName => known.has(name);

/** The rows in one form each: a walk asks them at every step, and one form is found sooner than many. */
const rows = new Map<VerbName, Verb>(
  verbNames.map((name) => {
    const { opens, closes, objects, whole, gate, access }: Verb = verbs[name];
    return [name, { opens, closes, objects, whole, gate, access }];
  }),
);

const none: Verb = { opens: undefined, closes: undefined, objects: 'free', whole: undefined, gate: undefined, access: undefined };

export const verbOf = (name: VerbName): Verb => rows.get(name) ?? none;

/** The verb that closes what another opens: `remove` → `fit`. */
export const closerOf = (pair: Pair): VerbName => {
  const found = verbNames.find((name) => verbOf(name).closes === pair);
  if (!found) throw new Error(`nothing closes ${pair}`);
  return found;
};

/** The verbs written in a step; a good step has exactly one. */
export const verbsIn = (step: Step): VerbName[] => Object.keys(step).filter(isVerb);
