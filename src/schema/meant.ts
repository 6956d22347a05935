import { bare } from '../bare.js';
import { nearest } from '../findings/suggest.js';
import { once } from '../once.js';

/** Other words of the trade for what a key is called here: that the letters of another key are near says nothing then. */
const words = bare<string>({
  // What is done in a step.
  fit: 'press-in seat slide-on install reinstall refit mount attach assemble reassemble insert put-on put-back put-in',
  remove:
    'press-out drive-out knock-out lever-out pry-off take-off take-out detach dismount demount dismantle extract strip uninstall pull pull-out unscrew',
  renew: 'replace change exchange swap substitute',
  disconnect: 'unplug unclip unhook pull-off',
  connect: 'plug plug-in reconnect clip hook-up',
  open: 'unscrew uncap depressurise depressurize relieve',
  close: 'shut reclose screw-in',
  drain: 'empty let-out drain-off recover evacuate discharge suck-out siphon',
  fill: 'refill top-up pour add charge',
  raise: 'lift lift-up jack jack-up hoist elevate crane winch',
  lower: 'let-down',
  loosen: 'slacken undo unbolt unscrew untighten',
  tighten: 'preload nip-up torque torque-up torque-down fasten bolt screw',
  're-torque': 'retorque retighten re-tighten',
  support: 'hang secure prop prop-up hold strap tie sling',
  unsupport: 'unprop unsecure unstrap untie',
  lock: 'block pin',
  unlock: 'unblock unpin',
  'switch-off': 'turn-off key-off deactivate disable',
  'switch-on': 'turn-on key-on activate enable',
  isolate: 'disarm',
  energise: 'energize',
  turn: 'rotate spin',
  start: 'restart',
  stop: 'shut-down',
  run: 'idle warm-up',
  bleed: 'vent purge prime deaerate',
  pressurise: 'pressurize pressure-test',
  drive: 'road-test test-drive bed-in break-in burnish across-flats af key-size socket-size',
  'hand-over': 'deliver',
  clean: 'wipe wash brush degrease blow blow-out scrape flush',
  inspect: 'look look-at examine view observe verify listen feel smell watch hear trace probe',
  measure: 'gauge record',
  check: 'verify',
  test: 'try verify operate actuate cycle exercise pump',
  lubricate: 'grease oil lube',
  apply: 'spread coat smear',
  adjust: 'set align calibrate',
  mark: 'label sketch photograph photo',
  confirm: 'compare',
  read: 'scan read-out record save backup',
  erase: 'delete clear-codes',
  reset: 'relearn teach-in code program reprogram',
  send: 'send-out machine rebore reface skim',
  release: 'depressurise depressurize relieve unclamp decompress',
  compress: 'clamp squeeze pinch',
  place: 'plug cap cover protect stuff mask insert put-in chock wedge shield insulate',
  clear: 'unmask uncover unchock',
  'move-aside': 'hang hang-up tie-up swing-aside push-aside set-aside move slide push',
  wait: 'depressurise depressurize pause let-cool cool',
  // What is said of it.
  says: 'amount quantity volume say note notes text comment comments description remark remarks instruction instructions details info',
  warning: 'warn',
  caution: 'attention',
  with: 'tool tools using instrument',
  why: 'reason because',
  where: 'location place position',
  people: 'persons helpers',
  wear: 'ppe gloves protection',
  when: 'if condition only-if',
  unattended: 'waiting',
  // What is said of parts and joints.
  behind: 'covered-by hidden-by under beneath below',
  fasteners: 'bolts bolt screws screw nuts nut held-by',
  seals: 'gaskets gasket o-rings',
  circuit: 'system fluid',
  hazard: 'danger dangers hazards risk',
  reuse: 'reusable reused single-use one-time',
  threads: 'lubrication lubricant friction condition',
  sequence: 'order pattern tightening-order',
  torque: 'moment value nm',
  angle: 'degrees',
  'by-hand': 'hand turns',
  // What is said of fluids, readings and what they choose.
  through: 'openings opening via by',
  drains: 'drain drainage ways refill refill-amount service-fill',
  limit: 'limits range allowed nominal value max min maximum minimum at-most at-least',
  outside: 'otherwise else if-outside if-not',
  points: 'readings places',
  calculated: 'computed derived formula sum worked-out',
  gives: 'item part choose use then volume amount',
  from: 'by measurement measured-by based-on',
  over: 'from above more-than greater-than',
  to: 'up-to until',
  // Where it comes from, and where it lies.
  document: 'book manual',
  edition: 'year version issue',
  bin: 'shelf location stock',
  // What things are called and how many there are.
  name: 'title label description says',
  count: 'quantity qty pieces pcs amount number-of',
  number: 'part-number part-no no sku article',
  price: 'cost unit-price amount',
  core: 'deposit surcharge exchange core-charge',
  contains: 'content contents includes item items',
  thread: 'size dimension',
  class: 'grade strength',
  stages: 'torque torques steps',
  mass: 'weight',
  capacity: 'volume quantity amount',
  time: 'duration hours minutes',
  plate: 'registration licence license licence-plate license-plate',
  vin: 'chassis chassis-number',
  serial: 'serial-number serial-no machine-number',
  odometer: 'mileage kilometres kilometers',
  hours: 'hour-meter operating-hours engine-hours running-hours',
  technician: 'mechanic worker assigned assigned-to assignee',
  square: 'drive square-drive',
  deviation: 'accuracy tolerance error',
  validity: 'valid valid-for valid-until holds',
  taxes: 'vat sales-tax tax-rates',
  complaint: 'problem fault symptom',
  for: 'vehicle vehicles car model fits',
  labour: 'time hours duration',
  spec: 'type specification grade',
  features: 'engine variants options',
  work: 'procedures tasks operations',
  needs: 'requires preparations before',
  'close-up': 'closing reassembly assembly',
  steps: 'procedure actions',
});

/** Words for how something is done, by the verbs for what it may be done: how stands in `says:`. */
const manners = bare<string>({
  fit: 'heat cool press hammer tap weld braze solder glue bond stick rivet crimp stake peen flare',
  remove: 'heat press hammer tap cut saw drill split chisel grind',
  connect: 'solder crimp splice',
  clean: 'sand file hone polish grind dress deburr ream dry soak',
  adjust: 'bend straighten balance centre center index zero level tension trim shim lap inflate deflate',
  apply: 'paint spray lacquer prime tape wrap dip',
  send: 'weld hone grind balance',
});

/** The same of values of which a key takes one of a few. */
const values = bare<string>({
  job: 'order job-order work-order',
  parts: 'catalogue catalog part',
  vehicle: 'car profile model',
  procedure: 'work task operation',
  // What can hurt, and what protects.
  restraint: 'airbag air-bag airbags srs pretensioner pyrotechnic explosive',
  'fuel-pressure': 'injection rail',
  flammable: 'fuel petrol gasoline diesel fire vapour vapor inflammable combustible',
  hydraulic: 'pressure accumulator hydraulics',
  'compressed-air': 'air pneumatic air-pressure',
  'high-voltage': 'hv voltage electric electricity electrical',
  refrigerant: 'air-conditioning ac a/c',
  hot: 'heat scald burn burns coolant',
  gas: 'lpg cng hydrogen',
  spring: 'springs tension spring-force',
  eyes: 'glasses goggles safety-glasses safety-goggles eye-protection face-shield visor',
  ears: 'hearing ear-protection hearing-protection ear-defenders earplugs',
  gloves: 'glove hands nitrile nitrile-gloves',
  mask: 'respirator dust-mask breathing',
  'insulating-gloves': 'hv-gloves electrical-gloves insulated-gloves',
  // Joints.
  never: 'no new single-use once false',
  always: 'yes reusable true',
  dry: 'clean unlubricated degreased',
  oiled: 'oil lubricated lightly-oiled wet',
  greased: 'grease lightly-greased',
  'anti-seize': 'antiseize copper-paste assembly-paste',
  threadlocker: 'locked thread-lock threadlock locking-compound glue',
  adhesive: 'glue bond bonding urethane polyurethane pu-adhesive epoxy',
  sealant: 'sealer sealed',
  'as supplied': 'as-supplied supplied coated microencapsulated new',
  star: 'cross crosswise cross-wise crisscross criss-cross diagonal diagonally alternately',
  line: 'row in-order sequential along',
  'centre-out': 'center-out inside-out middle-out from-centre from-center outwards',
  left: 'lh left-hand reverse',
  right: 'rh right-hand normal',
  hand: 'by-hand finger',
  distance: 'km miles mileage road',
  run: 'running warm-up engine-run',
  'heat-cycle': 'hot warm heat',
  'not-needed': 'no never none false',
  needed: 'yes true always',
  // Parts and fluids.
  'fill-point': 'filler fill filler-cap cap filling-point',
  none: 'without liquid-gasket sealant',
  'used-again': 'reuse reused reusable again yes',
  concentrate: 'undiluted concentrated',
  ready: 'premix premixed ready-mixed mixed ready-to-use',
  ethylene: 'eg meg mono-ethylene',
  propylene: 'pg mpg',
  running: 'on idle idling',
  'on-ground': 'ground down lowered on-wheels wheels',
  'level-lift': 'lift raised on-lift',
  // The shop.
  'torque-wrench': 'wrench torque',
  instrument: 'gauge meter tester measuring measurement',
  special: 'tool special-tool',
  powered: 'impact impact-wrench cordless',
  adapter: 'crowfoot extension',
  lift: 'hoist ramp',
  L: 'litre liter litres liters',
  kg: 'kilogram kilograms',
  piece: 'pieces pcs pc each unit',
  Letter: 'us-letter usletter',
  info: 'note hint notice',
  warning: 'warn',
  off: 'none disable disabled ignore stopped standing',
});

/** What is called so here, by the other words. */
function byOther(table: Readonly<Record<string, string>>): Map<string, string[]> {
  const found = new Map<string, string[]>();
  for (const [one, others] of Object.entries(table)) for (const other of others.split(' ')) once(found, other, () => []).push(one);
  return found;
}

/** Each made when the first is asked for, which is seldom. */
const made = new Map<Readonly<Record<string, string>>, Map<string, string[]>>();

const meantIn = (table: Readonly<Record<string, string>>, word: string, allowed: readonly unknown[]): readonly string[] =>
  (once(made, table, () => byOther(table)).get(word.toLowerCase().replace(/[ _]/g, '-')) ?? []).filter((one) => allowed.includes(one));

/** The keys, of those that may stand in a place, that another word seems to mean. */
export const meantBy = (word: string, keys: readonly string[]): readonly string[] => meantIn(words, word, keys);

/** The verbs that a word may be meant for that only says how something is done. */
export const servedBy = (word: string, keys: readonly string[]): readonly string[] => meantIn(manners, word, keys);

/** The keys whose words all stand in another (`torque-tools`: `tools`): what is said more exactly than a key is. */
export function namedIn(word: string, keys: readonly string[]): readonly string[] {
  const said = new Set(word.toLowerCase().split(/[-_ ]+/));
  return said.size < 2 ? [] : keys.filter((key) => key.split('-').every((one) => said.has(one)));
}

/** Whether a key that nobody knows was meant to be one that is missing: a slip, another word for it, or more exact than it is. */
export const standsFor = (written: string, missing: string): boolean =>
  nearest(written, [missing]) !== undefined || meantBy(written, [missing]).length > 0 || namedIn(written, [missing]).length > 0;

/** The values, of those that a key takes, that another word seems to mean. */
export const valueMeantBy = (word: string, allowed: readonly unknown[]): readonly string[] => meantIn(values, word, allowed);

/** The same where no list says which values a key takes: all of them that the word may mean. */
export const anyValueMeantBy = (word: string): readonly string[] => valueMeantBy(word, Object.keys(values));
