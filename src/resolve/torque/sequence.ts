export type Point = readonly [x: number, y: number];

/**
 * The order in which the fasteners of a group are tightened, as numbers from 1. Always a permutation of 1 … count.
 * @param rule star, line, centre-out, spiral, or an explicit order; none means the numbered order
 * @param positions mm, in numbered order; without them a ring is assumed for `star`, a line for the others
 */
export function tighteningOrder(
  rule: string | readonly number[] | undefined,
  count: number,
  positions: readonly Point[] | undefined,
): number[] {
  if (count <= 0) return [];
  if (Array.isArray(rule)) return [...rule];
  const placed = positions && positions.length === count ? positions : undefined;
  switch (rule) {
    case 'star':
      return star(placed ? fromTheFirst(aroundTheCentre(placed)) : numbers(count));
    case 'line':
      return fromTheMiddle(placed ? alongTheLine(placed) : numbers(count));
    case 'centre-out':
      return placed ? centreOut(placed) : fromTheMiddle(numbers(count));
    case 'spiral':
      return placed ? spiral(placed) : fromTheMiddle(numbers(count));
    default:
      return numbers(count);
  }
}

export const knownSequences = ['star', 'line', 'centre-out', 'spiral'] as const;

/** Whether an explicit order names each fastener once. */
export const isPermutation = (order: readonly number[], count: number): boolean =>
  order.length === count && new Set(order).size === count && order.every((n) => Number.isInteger(n) && n >= 1 && n <= count);

const numbers = (count: number): number[] => Array.from({ length: count }, (_, index) => index + 1);

/** Round a ring so that neighbours never follow each other: to the opposite fastener, then on by about a quarter. */
function star(ring: readonly number[]): number[] {
  const n = ring.length;
  if (n < 4) return [...ring];
  if (n % 2 === 1) {
    const step = Math.floor(n / 2);
    return numbers(n).map((_, index) => ring[(index * step) % n] ?? 0);
  }
  const half = n / 2;
  const order: number[] = [];
  for (const start of spread(half)) {
    // Of a pair of opposites, first the one that is farther from the last.
    const last = order.at(-1) ?? start + half;
    const first = apart(last, start, n) >= apart(last, start + half, n) ? start : start + half;
    order.push(first, (first + half) % n);
  }
  return order.map((at) => ring[at] ?? 0);
}

const apart = (a: number, b: number, n: number): number => Math.min((((a - b) % n) + n) % n, (((b - a) % n) + n) % n);

/** 0 … n−1 so that each next one is far from the last: on by half, and by one more where that was taken. */
function spread(n: number): number[] {
  const step = Math.max(1, Math.floor(n / 2));
  const taken = new Set<number>();
  let at = 0;
  while (taken.size < n) {
    while (taken.has(at)) at = (at + 1) % n;
    taken.add(at);
    at = (at + step) % n;
  }
  return [...taken];
}

/** A ring turned so that it begins with fastener 1. */
function fromTheFirst(ring: readonly number[]): number[] {
  const at = Math.max(0, ring.indexOf(1));
  return [...ring.slice(at), ...ring.slice(0, at)];
}

function fromTheMiddle(line: readonly number[]): number[] {
  const middle = (line.length - 1) / 2;
  return line
    .map((value, index) => ({ value, index, away: Math.abs(index - middle) }))
    .sort((a, b) => a.away - b.away || a.index - b.index)
    .map(({ value }) => value);
}

const centroid = (points: readonly Point[]): Point => [
  points.reduce((sum, p) => sum + p[0], 0) / points.length,
  points.reduce((sum, p) => sum + p[1], 0) / points.length,
];

function aroundTheCentre(points: readonly Point[]): number[] {
  const [cx, cy] = centroid(points);
  return points
    .map(([x, y], index) => ({ number: index + 1, angle: (Math.atan2(y - cy, x - cx) + 2.5 * Math.PI) % (2 * Math.PI) }))
    .sort((a, b) => a.angle - b.angle || a.number - b.number)
    .map(({ number }) => number);
}

function alongTheLine(points: readonly Point[]): number[] {
  const wide =
    Math.max(...points.map((p) => p[0])) - Math.min(...points.map((p) => p[0])) >=
    Math.max(...points.map((p) => p[1])) - Math.min(...points.map((p) => p[1]));
  return points
    .map((point, index) => ({ number: index + 1, at: wide ? point[0] : point[1] }))
    .sort((a, b) => a.at - b.at || a.number - b.number)
    .map(({ number }) => number);
}

/**
 * Rings of equal distance from the centre, nearest first; within a ring each next fastener is the one farthest from
 * the last, so that sides alternate.
 */
function centreOut(points: readonly Point[]): number[] {
  const [cx, cy] = centroid(points);
  const distance = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1]);
  const left = points.map((point, index) => ({ number: index + 1, point, away: Math.round(distance(point, [cx, cy]) * 1000) / 1000 }));
  const size = Math.max(...left.map((one) => one.away), 1);
  const order: number[] = [];
  let last: Point | null = null;
  while (left.length > 0) {
    const nearest = Math.min(...left.map((one) => one.away));
    const ring = left.filter((one) => one.away <= nearest + size * 0.02);
    const from: Point | null = last;
    ring.sort((a, b) => (from ? distance(b.point, from) - distance(a.point, from) : 0) || a.number - b.number);
    const next = ring[0];
    if (!next) break;
    order.push(next.number);
    last = next.point;
    left.splice(left.indexOf(next), 1);
  }
  return order;
}

/** From the fastener nearest the centre outwards, turning: by distance in bands, and by angle within a band. */
function spiral(points: readonly Point[]): number[] {
  const [cx, cy] = centroid(points);
  const placed = points.map(([x, y], index) => ({
    number: index + 1,
    away: Math.hypot(x - cx, y - cy),
    angle: Math.atan2(y - cy, x - cx),
  }));
  const nearest = Math.min(...placed.map((one) => one.away));
  const farthest = Math.max(...placed.map((one) => one.away));
  const band = (one: { away: number }) =>
    farthest === nearest ? 0 : Math.min(3, Math.floor(((one.away - nearest) / (farthest - nearest)) * 4));
  return placed.sort((a, b) => band(a) - band(b) || a.angle - b.angle || a.number - b.number).map(({ number }) => number);
}
