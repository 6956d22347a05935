/**
 * Threads that are none of a bolt: pipes, tapping screws, trapezoidal and Whitworth forms. Known by their sizes, so that one
 * that does not exist is told; nothing is estimated of them.
 */

/** Sizes of pipe threads, in. Source: ISO 228-1 (G) and ISO 7-1 (R, Rp, Rc), from memory. */
const pipe = ['1/16', '1/8', '1/4', '3/8', '1/2', '5/8', '3/4', '7/8', '1', '1 1/8', '1 1/4', '1 1/2', '1 3/4', '2'];

/** Taper pipe threads: threads an inch by size. Source: ASME B1.20.1, from memory. */
const taper = new Map([
  ['1/16', '27'],
  ['1/8', '27'],
  ['1/4', '18'],
  ['3/8', '18'],
  ['1/2', '14'],
  ['3/4', '14'],
  ['1', '11.5'],
  ['1 1/4', '11.5'],
  ['1 1/2', '11.5'],
  ['2', '11.5'],
]);

/** Diameters of tapping screws, mm. Source: ISO 1478, from memory. */
const tapping = ['1.5', '1.9', '2.2', '2.6', '2.9', '3.3', '3.5', '3.9', '4.2', '4.8', '5.5', '6.3', '8', '9.5'];

/** Whether a text is a thread of these: `G1/4A`, `R1/8`, `1/4 BSPP`, `1/8-27 NPT`, `ST4.8x16`, `Tr20x4`, `5/16-22 BSF`, `2 BA`. */
export function isOtherThread(text: string): boolean {
  const written = text.trim();
  const size = '(\\d+(?: \\d+/\\d+)?|\\d+/\\d+)';
  const british = new RegExp(`^(?:G|Rp|Rc|R) ?${size}[AB]?$`).exec(written) ?? new RegExp(`^${size} BSP[PT]?$`).exec(written);
  if (british) return pipe.includes(british[1] ?? '');
  const american = new RegExp(`^${size}(?:-(\\d+(?:\\.\\d)?))? NPTF?$`).exec(written);
  if (american) {
    const [, inches = '', perInch] = american;
    const standard = taper.get(inches);
    return standard !== undefined && (perInch === undefined || perInch === standard);
  }
  const screw = /^ST(\d+(?:\.\d)?)(?:[x×]\d+)?$/.exec(written);
  if (screw) return tapping.includes(String(Number(screw[1])));
  const trapezoidal = /^Tr(\d+)[x×](\d+(?:\.\d)?)$/.exec(written);
  if (trapezoidal) return Number(trapezoidal[2]) > 0 && Number(trapezoidal[2]) < Number(trapezoidal[1]) / 2;
  return /^(\d+\/)?[1-9]\d*-[1-9]\d* BS[WF]$/.test(written) || /^\d+ ?BA$/.test(written);
}
