import { asList, type Scope } from '../library/scope.js';
import { once } from '../once.js';
import { isPlaced, isWritten } from '../schema/origin.js';
import type { Fluid, Part } from '../schema/generated/types.js';
import { hazardousIn } from './dangers.js';
import { inWords } from '../library/names-in-words.js';

type Hazard = NonNullable<Part['hazard']>;

/** A hazard, and the names that things with it bear; common practice, no source. In the languages of the tool, spaces between words. */
interface Names {
  readonly hazard: Hazard;
  readonly is: RegExp;
  /** What has such a word in its name and is harmless. */
  readonly butNot?: RegExp;
}

const harmless = /\b(lamp|light|label|sticker|switch|button|gauge|cover trim|leuchte|lampe|schalter|aufkleber|anzeige)\b/;

const kinds: readonly Names[] = [
  { hazard: 'restraint', is: /air ?bag|pre ?tensioner|gurtstraffer/ },
  {
    hazard: 'refrigerant',
    is: /\b(refrigerant|air con(ditioning)?|a ?c)\b.*\b(lines?|pipes?|hoses?|compressor|condenser|evaporator|receiver|drier)\b|k(ä|ae)ltemittel|\bklima(leitung|schlauch|kompressor|kondensator|verdampfer|trockner)/,
    butNot: /\b(charg\w*|belt|clutch|pulley|bracket|drain|riemen|halter)\b/,
  },
  {
    hazard: 'high-voltage',
    is: /\bhigh voltage\b|\bhv (battery|cable|lead|connector|plug)s?\b|\b(traction|drive) battery\b|\bbattery pack\b|\binverter\b|hochvolt|traktionsbatterie|antriebsbatterie/,
    butNot: /\b(service plug|service disconnect|bracket|undertray)\b|wartungsstecker/,
  },
  {
    hazard: 'fuel-pressure',
    is: /\b(fuel|petrol|gasoline|common) (distributor )?rail\b|\b(fuel|petrol|gasoline) (feed|supply|pressure)\b|\b(high pressure|injection) (fuel )?(pipe|line|pump)s?\b|kraftstoffverteiler|kraftstoffvorlauf|hochdruck(leitung|pumpe)|einspritzleitung/,
    butNot: /\b(sensor|return|washer|steering)\b|r(ü|ue)cklauf|servo|lenk/,
  },
  {
    hazard: 'hydraulic',
    is: /\b(pressure|hydraulic|brake) accumulator\b|druckspeicher/,
    butNot: /\b(drain|drains)\b|ablass|entw(ä|ae)sser/,
  },
  {
    hazard: 'spring',
    is: /\b(coil|road|suspension|valve) springs?\b|\bspring brakes?\b|schraubenfeder|fahrwerksfeder|ventilfeder|federspeicher/,
  },
  {
    hazard: 'compressed-air',
    is: /\bair (spring|bellow|tank|reservoir|line|pipe)s?\b|\bair (brake|suspension) (line|pipe|hose|valve)s?\b|\bcompressed air\b|\bbrake chambers?\b|luftfeder|druckluft|membranzylinder/,
    butNot: /\b(drain|drains|charge|intake|inlet|boost|turbo|bleed|secondary|fresh|cabin)\b|ablass|entw(ä|ae)sser|ladeluft|ansaug/,
  },
  { hazard: 'gas', is: /\b(lpg|cng|lng|autogas|natural gas|hydrogen)\b|erdgas|fl(ü|ue)ssiggas|wasserstoff/ },
  {
    hazard: 'flammable',
    is: /\b(fuel|petrol|gasoline|gas) tanks?\b|\b(petrol|gasoline) (filter|pump|line|pipe|hose)s?\b|(kraftstoff|benzin)(tank|beh(ä|ae)lter)|benzin(filter|pumpe|leitung|schlauch)/,
    butNot:
      /\b(cap|flap|door|straps?|shield|guard|bracket|trim|deckel|klappe|spannband|b(ä|ae)nder|halter)\b|tank(deckel|klappe|band|b(ä|ae)nder|halter|schutz)/,
  },
];

/** A hazard that nobody says, and what should say it: the part, or the charge in it. */
export interface Unsaid {
  readonly hazard: Hazard;
  readonly at: string;
}

const known = new WeakMap<object, ReadonlyMap<string, Unsaid>>();

/**
 * Parts that by their name are dangerous to open and of which the profile says no hazard: none of their own, of their
 * circuit, or of another part of it. Found out once for all documents that see the same parts and fluids.
 */
export const unsaidDangersOf = (scope: Scope): ReadonlyMap<string, Unsaid> => once(known, scope.things, () => find(scope));

function find(scope: Scope): ReadonlyMap<string, Unsaid> {
  const said = hazardousIn(scope);
  const circuits = new Set([...said].flatMap((id) => [id, ...circuitsToldBy(scope.parts.get(id))]));
  const found = new Map<string, Unsaid>();
  for (const [id, part] of scope.parts) {
    const { name, circuit } = part;
    if (said.has(id) || asList(circuit).some((one) => circuits.has(one))) continue;
    const charge = asList(circuit).find((one) => scope.charges.has(one));
    if (charge !== undefined) {
      found.set(id, { hazard: 'refrigerant', at: charge });
      continue;
    }
    const words = inWords(id, name);
    if (harmless.test(words)) continue;
    const kind = kinds.find(({ is, butNot }) => is.test(words) && !butNot?.test(words));
    if (!kind || isSaidBefore(scope, part, kind.hazard)) continue;
    // What is said and could not be read is told there.
    if (!(isPlaced(part) && isWritten(part, 'hazard'))) found.set(id, { hazard: kind.hazard, at: id });
  }
  return found;
}

/** Whether what lies in front says it of itself, or of what is in its circuit: a line before what it leads to. */
const isSaidBefore = ({ parts, fluids, charges }: Scope, { behind = [] }: Part, hazard: Hazard): boolean =>
  behind.some((id) => {
    const cover = parts.get(id);
    return cover?.hazard === hazard || asList(cover?.circuit).some((one) => (fluids.get(one) ?? charges.get(one))?.hazard === hazard);
  });

/** The circuits of which a part says what is dangerous in them; a spring is dangerous whatever is in its circuit. */
const circuitsToldBy = (part: Part | undefined): readonly string[] =>
  part?.hazard && part.hazard !== 'spring' ? asList(part.circuit) : [];

/** What cools an engine, by its name; common practice, no source. */
const coolant = /\bcoolant\b|\bantifreeze\b|k(ü|ue)hl(er)?(mittel|wasser|fl(ü|ue)ssigkeit)/;

/** What cools something else, or cools nothing. */
const notOfEngine =
  /\b(hv|pack|e motor|electric|drive|charge air|intercooler|screen|cutting)\b|batter|inverter|traction|washer|wechselrichter|hochvolt|elektro|ladeluft|scheib/;

/** Whether a fluid cools the engine, and so is hot and under pressure after a drive: by its glycol, or by its name. */
export function isHeatedByEngine(id: string, { name, glycol }: Pick<Fluid, 'name' | 'glycol'>): boolean {
  const words = inWords(id, name);
  return (glycol !== undefined || coolant.test(words)) && !notOfEngine.test(words);
}
