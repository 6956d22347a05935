import { bare } from '../bare.js';
import { Decimal } from 'decimal.js';
import { once } from '../once.js';

/** Decimals of our own precision, so that nothing another library sets can change ours. */
export const D = Decimal.clone({ precision: 40, rounding: Decimal.ROUND_HALF_UP, toExpNeg: -30, toExpPos: 30 });

export type Dimension =
  | 'torque'
  | 'angle'
  | 'length'
  | 'volume'
  | 'mass'
  | 'time'
  | 'temperature'
  | 'pressure'
  | 'share'
  | 'force'
  | 'voltage'
  | 'speed'
  | 'resistance'
  | 'current'
  | 'power'
  | 'electric charge'
  | 'frequency'
  | 'rotational speed'
  | 'flow'
  | 'mass flow'
  | 'density'
  | 'temperature difference'
  | 'acceleration'
  | 'energy'
  | 'capacitance'
  | 'conductivity'
  | 'air ratio'
  | 'acidity'
  | 'light absorption'
  | 'sound level'
  | 'illuminance'
  | 'luminous intensity';

export interface Unit {
  /** The symbol as printed. */
  readonly symbol: string;
  readonly dimension: Dimension;
  /** Size in the unit of the dimension whose factor is 1 (N·m, deg, mm, L, kg, s, °C, kPa, %, N, V, km/h, Ω, A, W, Ah, Hz, r/min, L/h, kg/h, kg/L, K, m/s², kWh, µF, µS/cm, λ, pH, 1/m, dB(A), lx, cd). Exact. */
  readonly factor: Decimal;
  /** Temperatures: value in °C = (value + offset) × factor. */
  readonly offset: Decimal;
  readonly spellings: readonly string[];
}

// Exact definitions. Source: NIST SP 811 (2008), appendix B.8; checked in tests against reference/unit_factors.csv.
const inch = new D('25.4');
const foot = inch.times(12);
const poundForce = new D('4.4482216152605');
const pound = new D('0.45359237');
const gravity = new D('9.80665');
const usGallon = new D('3.785411784');
const imperialGallon = new D('4.54609');
// A column of mercury of 13,595.1 kg/m³ (conventional), in kPa.
const millimetreOfMercury = new D('0.133322387415');
// A column of water of 1,000 kg/m³ (conventional), in kPa.
const millimetreOfWater = gravity.div(1000);

const unit = (symbol: string, dimension: Dimension, factor: Decimal.Value, spellings: string, offset: Decimal.Value = 0): Unit => ({
  symbol,
  dimension,
  factor: new D(factor),
  offset: new D(offset),
  spellings: spellings.split(' ').filter(Boolean),
});

/** Every unit that is understood. Spellings are lower case with every joining sign written as a middle dot. */
export const units: readonly Unit[] = [
  unit('N·m', 'torque', 1, 'n·m nm newton·metre newton·meter newton·metres newton·meters'),
  unit('cN·m', 'torque', '0.01', 'cn·m cnm n·cm ncm'),
  unit('daN·m', 'torque', 10, 'dan·m danm m·dan'),
  unit(
    'lbf·ft',
    'torque',
    poundForce.times(foot).div(1000),
    'lbf·ft ft·lbf lb·ft ft·lb lbs·ft ft·lbs lbft ftlb foot·pound foot·pounds pound·foot pound·feet',
  ),
  unit(
    'lbf·in',
    'torque',
    poundForce.times(inch).div(1000),
    'lbf·in in·lbf lb·in in·lb lbs·in in·lbs lbin inlb inch·pound inch·pounds pound·inch pound·inches',
  ),
  unit('kgf·m', 'torque', gravity, 'kgf·m m·kgf kg·m m·kg kgm mkg mkp kpm kp·m m·kp'),
  unit('kgf·cm', 'torque', gravity.div(100), 'kgf·cm cm·kgf kg·cm cm·kg kgcm cmkg kp·cm'),
  unit('ozf·in', 'torque', poundForce.times(inch).div(16000), 'ozf·in in·ozf oz·in in·oz'),
  unit('mN·m', 'torque', '0.001', 'mn·m mnm'),
  unit('deg', 'angle', 1, 'deg ° degree degrees'),
  unit('turn', 'angle', 360, 'turn turns revolution revolutions rev'),
  // A side of a hexagon, as flare nuts are turned by.
  unit('flat', 'angle', 60, 'flat flats'),
  unit('arcmin', 'angle', new D(1).div(60), "arcmin ′ ' arcminute arcminutes"),
  unit('mm', 'length', 1, 'mm'),
  unit('µm', 'length', '0.001', 'µm um micron microns'),
  unit('cm', 'length', 10, 'cm'),
  unit('m', 'length', 1000, 'm metre metres meter meters'),
  unit('km', 'length', 1_000_000, 'km'),
  unit('in', 'length', inch, 'in inch inches'),
  unit('thou', 'length', inch.div(1000), 'thou thous'),
  unit('ft', 'length', foot, 'ft foot feet'),
  unit('mi', 'length', foot.times(5280), 'mi mile miles'),
  unit('L', 'volume', 1, 'l ltr litre litres liter liters'),
  unit('mL', 'volume', '0.001', 'ml cc ccm cm³ cm3'),
  unit('US gal', 'volume', usGallon, 'us·gal us·gals gal(us) us·gallon us·gallons gallon(us)'),
  unit('US qt', 'volume', usGallon.div(4), 'us·qt us·qts qt(us) us·quart us·quarts quart(us)'),
  unit('US pt', 'volume', usGallon.div(8), 'us·pt us·pts pt(us) us·pint us·pints pint(us)'),
  unit('US fl oz', 'volume', usGallon.div(128), 'us·fl·oz fl·oz(us)'),
  unit('imp gal', 'volume', imperialGallon, 'imp·gal imp·gals gal(imp) gal(uk) imperial·gallon imperial·gallons'),
  unit('imp qt', 'volume', imperialGallon.div(4), 'imp·qt imp·qts qt(imp) qt(uk) imperial·quart imperial·quarts'),
  unit('imp pt', 'volume', imperialGallon.div(8), 'imp·pt imp·pts pt(imp) pt(uk) imperial·pint imperial·pints'),
  unit('imp fl oz', 'volume', imperialGallon.div(160), 'imp·fl·oz fl·oz(imp) fl·oz(uk)'),
  unit('cL', 'volume', '0.01', 'cl'),
  unit('dL', 'volume', '0.1', 'dl'),
  unit('mm³', 'volume', '0.000001', 'mm³ mm3 µl'),
  unit('in³', 'volume', inch.pow(3).div(1_000_000), 'in³ in3 cu·in'),
  unit('kg', 'mass', 1, 'kg'),
  unit('g', 'mass', '0.001', 'g gram grams'),
  unit('t', 'mass', 1000, 't tonne tonnes'),
  unit('lb(mass)', 'mass', pound, 'lb(mass) lbm'),
  unit('oz(mass)', 'mass', pound.div(16), 'oz(mass) ozm'),
  unit('min', 'time', 60, 'min mins minute minutes'),
  unit('s', 'time', 1, 's sec second seconds'),
  unit('h', 'time', 3600, 'h hour hours hr hrs'),
  unit('d', 'time', 86400, 'd day days'),
  unit('ms', 'time', '0.001', 'ms millisecond milliseconds'),
  unit('µs', 'time', '0.000001', 'µs microsecond microseconds'),
  unit('°C', 'temperature', 1, '°c degc ℃ celsius'),
  unit('°F', 'temperature', new D(5).div(9), '°f degf ℉ fahrenheit', -32),
  unit('kPa', 'pressure', 1, 'kpa'),
  unit('bar', 'pressure', 100, 'bar'),
  unit('mbar', 'pressure', '0.1', 'mbar'),
  unit('MPa', 'pressure', 1000, 'mpa'),
  unit('kgf/cm²', 'pressure', gravity.times(10), 'kgf/cm² kgf/cm2 kg/cm² kg/cm2 kp/cm² kp/cm2'),
  unit('mmHg', 'pressure', millimetreOfMercury, 'mmhg torr'),
  unit('inHg', 'pressure', millimetreOfMercury.times(inch), 'inhg in·hg'),
  unit('mmH₂O', 'pressure', millimetreOfWater, 'mmh₂o mmh2o mmws'),
  unit('inH₂O', 'pressure', millimetreOfWater.times(inch), 'inh₂o inh2o in·h2o'),
  unit('psi', 'pressure', poundForce.div(inch.pow(2)).times(1000), 'psi'),
  unit('hPa', 'pressure', '0.1', 'hpa'),
  unit('Pa', 'pressure', '0.001', 'pa'),
  unit('%', 'share', 1, '% percent vol% vol·% %vol %·vol'),
  unit('‰', 'share', '0.1', '‰ permille'),
  unit('ppm', 'share', '0.0001', 'ppm'),
  unit('N', 'force', 1, 'n newton newtons'),
  unit('daN', 'force', 10, 'dan'),
  unit('kN', 'force', 1000, 'kn'),
  unit('kgf', 'force', gravity, 'kgf kp'),
  unit('lbf', 'force', poundForce, 'lbf'),
  unit('V', 'voltage', 1, 'v volt volts'),
  unit('mV', 'voltage', '0.001', 'mv'),
  unit('kV', 'voltage', 1000, 'kv'),
  unit('km/h', 'speed', 1, 'km/h kph'),
  unit('m/s', 'speed', '3.6', 'm/s'),
  unit('mph', 'speed', foot.times(5280).div(1_000_000), 'mph'),
  unit('Ω', 'resistance', 1, 'ω ohm ohms'),
  unit('mΩ', 'resistance', '0.001', 'milliohm milliohms'),
  unit('kΩ', 'resistance', 1000, 'kω kohm kohms kiloohm kiloohms'),
  unit('MΩ', 'resistance', 1_000_000, 'megohm megohms megaohm megaohms'),
  unit('GΩ', 'resistance', 1_000_000_000, 'gω gohm gigohm gigohms'),
  unit('A', 'current', 1, 'a amp amps ampere amperes'),
  unit('mA', 'current', '0.001', 'ma milliamp milliamps'),
  unit('µA', 'current', '0.000001', 'µa microamp microamps'),
  unit('W', 'power', 1, 'w watt watts'),
  unit('kW', 'power', 1000, 'kw'),
  unit('hp', 'power', poundForce.times(foot).times(550).div(1000), 'hp bhp'),
  unit('PS', 'power', gravity.times(75), 'ps'),
  unit('kWh', 'energy', 1, 'kwh kw·h'),
  unit('Wh', 'energy', '0.001', 'wh w·h'),
  unit('J', 'energy', new D(1).div(3_600_000), 'j joule joules'),
  unit('Ah', 'electric charge', 1, 'ah a·h'),
  unit('mAh', 'electric charge', '0.001', 'mah ma·h'),
  unit('µF', 'capacitance', 1, 'µf uf'),
  unit('nF', 'capacitance', '0.001', 'nf'),
  unit('µS/cm', 'conductivity', 1, 'µs/cm us/cm'),
  unit('mS/cm', 'conductivity', 1000, 'ms/cm'),
  unit('Hz', 'frequency', 1, 'hz hertz'),
  unit('kHz', 'frequency', 1000, 'khz'),
  unit('r/min', 'rotational speed', 1, 'r/min rpm rev/min 1/min /min min⁻¹ u/min'),
  unit('L/h', 'flow', 1, 'l/h'),
  unit('L/min', 'flow', 60, 'l/min'),
  unit('mL/min', 'flow', '0.06', 'ml/min cc/min cm³/min'),
  unit('kg/h', 'mass flow', 1, 'kg/h'),
  unit('g/s', 'mass flow', '3.6', 'g/s'),
  unit('kg/L', 'density', 1, 'kg/l kg/dm³ g/cm³ g/cm3 g/ml'),
  unit('K', 'temperature difference', 1, 'kelvin'),
  unit('m/s²', 'acceleration', 1, 'm/s² m/s2'),
  // What exhaust testers show: air over the air that burns all fuel, and how much light the smoke takes on a metre.
  unit('λ', 'air ratio', 1, 'λ lambda'),
  unit('1/m', 'light absorption', 1, '1/m /m m⁻¹ m·1'),
  unit('pH', 'acidity', 1, 'ph'),
  unit('dB(A)', 'sound level', 1, 'db(a) dba'),
  unit('lx', 'illuminance', 1, 'lx lux'),
  unit('klx', 'illuminance', 1000, 'klx'),
  unit('cd', 'luminous intensity', 1, 'cd candela'),
  unit('kcd', 'luminous intensity', 1000, 'kcd'),
];

/** What people write that has more than one reading, with the readings. */
export const ambiguousUnits: Readonly<Record<string, readonly string[]>> = bare({
  gal: ['US gal', 'imp gal'],
  gals: ['US gal', 'imp gal'],
  gallon: ['US gal', 'imp gal'],
  gallons: ['US gal', 'imp gal'],
  qt: ['US qt', 'imp qt'],
  qts: ['US qt', 'imp qt'],
  quart: ['US qt', 'imp qt'],
  quarts: ['US qt', 'imp qt'],
  pt: ['US pt', 'imp pt'],
  pts: ['US pt', 'imp pt'],
  pint: ['US pt', 'imp pt'],
  pints: ['US pt', 'imp pt'],
  fl·oz: ['US fl oz', 'imp fl oz'],
  oz: ['US fl oz', 'imp fl oz', 'oz(mass)'],
  ft: ['lbf·ft', 'ft'],
  foot: ['lbf·ft', 'ft'],
  lb: ['lbf·ft', 'lbf·in', 'lbf', 'lb(mass)'],
  lbs: ['lbf·ft', 'lbf·in', 'lbf', 'lb(mass)'],
  pound: ['lbf·ft', 'lbf·in', 'lbf', 'lb(mass)'],
  // A thousandth of an inch, or short for a millimetre.
  mil: ['thou', 'mm'],
  mils: ['thou', 'mm'],
  mohm: ['mΩ', 'MΩ'],
  mohms: ['mΩ', 'MΩ'],
  pounds: ['lbf·ft', 'lbf·in', 'lbf', 'lb(mass)'],
});

const bySpelling = new Map<string, Unit>();
for (const one of units) for (const spelling of one.spellings) bySpelling.set(spelling, one);
/** Every way to write a unit that is read. */
export const spellings: readonly string[] = [...bySpelling.keys()];
const bySymbol = new Map(units.map((one) => [one.symbol, one]));

/** Folds the ways of joining units (`N.m`, `N m`, `N-m`, `N*m`) into one. */
export const foldUnit = (text: string): string =>
  text
    .trim()
    .toLowerCase()
    .replace(/[º˚]/g, '°')
    .replace(/μ/g, 'µ')
    .replace(/\s*\(\s*/g, '(')
    .replace(/\s*[.·⋅∙•*×-]\s*|\s+/g, '·')
    .replace(/·$/, '');

/** By its symbol, in which capitals count (mΩ, MΩ), or as people spell it. */
export const findUnit = (text: string): Unit | undefined => bySymbol.get(text.replace('\u2126', 'Ω')) ?? bySpelling.get(foldUnit(text));

/** How a unit is printed: beside a figure of mass, `lb` and `oz` can be nothing else. */
export const shownUnit = ({ symbol }: Unit): string => symbol.replace('(mass)', '');

export function unitOf(symbol: string): Unit {
  const found = bySymbol.get(symbol);
  if (!found) throw new Error(`no unit ${symbol}`);
  return found;
}

/** Converts a value between two units of one dimension; exact but for divisions, which carry 40 digits. */
export function convert(value: Decimal, from: Unit, to: Unit): Decimal {
  if (from === to) return value;
  if (from.dimension !== to.dimension) throw new Error(`${from.symbol} is not a unit of ${to.dimension}`);
  return value.plus(from.offset).times(from.factor).div(to.factor).minus(to.offset);
}

/** Converts a difference of two values: of temperatures, too, as 2 °C are 3.6 °F. */
export const convertDifference = (value: Decimal, from: Unit, to: Unit): Decimal =>
  convert(value, from, to).minus(convert(new D(0), from, to));

/** All that is understood, by what it measures: `torque: N·m, cN·m, …; angle: deg, …`. */
export const unitsByDimension = (): string => {
  const symbols = new Map<Dimension, string[]>();
  for (const { dimension, symbol } of units) once(symbols, dimension, () => []).push(symbol);
  return Array.from(symbols, ([dimension, those]) => `${dimension}: ${those.join(', ')}`).join('; ');
};
