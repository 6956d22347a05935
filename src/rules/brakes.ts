import { asList, type Scope } from '../library/scope.js';
import { inWords } from '../library/names-in-words.js';
import { once } from '../once.js';

// What is of the brakes, by its names and by its fluid; common practice, no source. In the languages of the tool.

/** What moves when the pedal is pressed. */
const pressed = /caliper|brake[ -]shoe|bremssattel|bremsbacke/i;

/** Fluids of brakes and hydraulic clutches, by name or by specification (ISO 4925; DOT 3, 4, 5.1). A gearbox may have clutches too. */
const hydraulic = /\bdot[ -]?[345]|\biso[ -]?4925|\b(brake|clutch)[ -]fluid|(brems|kupplungs)fl(ü|ue)ssigkeit/i;
const ofClutch = /clutch|kupplung/i;

/** What a profile has of the brakes. */
interface Brakes {
  /** Parts after which the pedal goes to the floor the first time. */
  readonly parts: ReadonlySet<string>;
  /** Circuits that take in air where they are open, brakes and clutch, by fluid. */
  readonly circuits: ReadonlySet<string>;
}

const known = new WeakMap<object, Brakes>();

/** Found out once for all documents that see the same parts and fluids. */
export const brakesOf = (scope: Scope): Brakes => once(known, scope.things, () => findBrakes(scope));

function findBrakes({ parts, fluids }: Scope): Brakes {
  const circuits = new Map<string, string>();
  for (const [id, { name, spec }] of fluids) {
    const words = `${id} ${name ?? ''} ${spec ?? ''}`;
    if (hydraulic.test(words)) circuits.set(id, words);
  }
  const ofPedal = (circuit: string) => {
    const words = circuits.get(circuit);
    return words !== undefined && !ofClutch.test(words);
  };
  return {
    circuits: new Set(circuits.keys()),
    parts: new Set(
      [...parts].flatMap(([id, { name, circuit, role }]) =>
        pressed.test(`${id} ${name ?? ''}`) || (role !== 'fill-point' && asList(circuit).some(ofPedal)) ? [id] : [],
      ),
    ),
  };
}

/** A trailer or a caravan, by its name: what it is towed by presses its brakes. */
const towed = /\b(semi ?)?trailer\b|\bcaravan\b|anh(ä|ae)nger|auflieger|wohnwagen/;

export const isTowed = ({ vehicle }: Scope): boolean => vehicle !== null && towed.test(inWords(vehicle.id, vehicle.name));

/** Whether something is of the brakes: parts of the profile as it says, anything else by its name alone. */
export const isOfBrakes = (scope: Scope, object: string): boolean =>
  scope.parts.has(object) ? brakesOf(scope).parts.has(object) : pressed.test(object);
