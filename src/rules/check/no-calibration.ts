import { spanOfObject } from '../context.js';
import { procedure } from '../examples.js';
import type { Rule } from '../rule.js';
import { notSetAgain, partsCalled, type SetAgain } from '../set-again.js';

const lamp = (after: string): string =>
  procedure(`parts: { headlamp: { name: left headlamp } }\nsteps:\n  - remove: headlamp # <-\nclose-up:\n  - fit: headlamp\n${after}`);

export const rule: Rule = {
  name: 'check/no-calibration',
  severity: 'info',
  finds:
    'A headlamp, a camera, the windscreen before one, a radar, a tyre, a drive chain or the cable of a brake or clutch was off, or brake shoes, an injector, a particle filter or a throttle body are new, and no step after that aims, calibrates, inflates, adjusts or teaches in (common practice, no source).',
  why: 'It dazzles who comes the other way, brakes for what is not there, runs flat or rough, or rolls away.',
  mend: 'Add the setting to `final: ground:`, or `send:` the vehicle to be calibrated.',
  bad: lamp(''),
  good: lamp('final:\n  ground:\n    - adjust: headlamp-beam\n      says: To the mark of the beam setter.\n'),
  check(context, tell) {
    for (const [what, wanted] of kinds)
      for (const { place, object } of notSetAgain(context, wanted))
        tell({
          span: spanOfObject(place.plan, place.planned, object),
          about: object,
          message: `\`${object}\` is ${wanted.whereNew ? 'renewed' : 'off'} here, and no step after it ${what}. Where the maker or the law asks for that, add it to the close-up or to \`final: ground:\`.`,
        });
  },
};

const cameras = partsCalled(/\b(front|road|driver|lane|stereo) camera\b|\bradar\b|\blidar\b|\bfrontkamera\b/);
const windscreens = partsCalled(
  /\bwind ?(screen|shield)\b(?! (wiper|washer|mo?ulding|molding|trim|seal|frame|glass cleaner|heater))|\b(front|windschutz)scheibe\b/,
);
const none: ReadonlySet<string> = new Set();
const calibrates = (words: string): boolean => /calibrat|kalibrier|einmess|\bcamera\b|\bradar\b|\blidar\b|kamera/i.test(words);

const kinds: readonly (readonly [what: string, wanted: SetAgain])[] = [
  [
    'sets its beam',
    {
      parts: partsCalled(/\bhead ?(lamps?|lights?)\b(?! (bulb|washer|switch|level|glass|bracket))|\b(haupt)?scheinwerfer\b/),
      isOf: (words) =>
        /\b(beams?|aim\w*)\b|(headlamp|headlight)[- ](level|height|setting)|leuchtweite|lichtkegel|scheinwerfer[- ]?einstell/i.test(words),
    },
  ],
  [
    'sets its pressure',
    {
      parts: partsCalled(/\b(tyres?|tires?)\b(?! (pressure|sensor|valve|label))|\b\w*reifen\b/),
      isOf: (words) => /pressure|inflat|\w*druck/i.test(words),
    },
  ],
  ['calibrates it', { parts: cameras, isOf: calibrates }],
  [
    'calibrates the camera that looks through it',
    { parts: (scope) => (cameras(scope).size > 0 ? windscreens(scope) : none), isOf: calibrates },
  ],
  [
    'adjusts their clearance',
    {
      parts: partsCalled(/\bshoes?\b(?! (spring|retainer|pin|clip)s?\b)|\bbremsbacken?\b(?! ?feder)/),
      isOf: (words) => /clearance|\bshoes?\b|\bdrums?\b|\bbrakes?\b|backen|trommel|\w*bremse\b/i.test(words),
      whereNew: true,
    },
  ],
  [
    'adjusts its travel',
    {
      parts: partsCalled(
        /\b(brake|clutch) cable\b(?! (bracket|clip|guide|holder))|\b(hand|park|feststell)?bremsseil(zug)?\b|\bkupplungs(seil|zug)\b/,
      ),
      isOf: (words) => /travel|cable|clearance|free ?play|lever|pedal|notch|\w*bremse\b|seil|\w*weg\b|spiel|rasten?\b/i.test(words),
    },
  ],
  [
    'sets its slack',
    {
      parts: partsCalled(/\b(drive|final) chain\b(?! (guard|guide|oiler|cover))|\bantriebskette\b/),
      isOf: (words) => /slack|tension|sag\b|chain|durchhang|spannung|kette/i.test(words),
    },
  ],
  [
    'writes its code',
    {
      parts: partsCalled(
        /\b(diesel |fuel )?injectors?\b(?! (seal|bolt|clamp|cover|line|connector)s?)|\beinspritz(d(ü|ue)sen?|ventile?)\b|\binjektor(en)?\b/,
      ),
      isOf: (words) => /\bcod(es?|ing)\b|adapt|teach|learn|kodier|codier|anlern/i.test(words),
      whereNew: true,
    },
  ],
  [
    'tells the vehicle that it is new',
    {
      parts: partsCalled(/\b(particle|particulate) filter\b|\bdpf\b|\bpartikelfilter\b|\bthrottle body\b|\bdrosselklappe(nstutzen)?\b/),
      isOf: (words) => /\breset\b|adapt|teach|learn|ash|counter|filter|throttle|anlern|zur(ü|ue)cksetz|drosselklappe/i.test(words),
      whereNew: true,
    },
  ],
];
