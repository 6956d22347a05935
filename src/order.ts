/**
 * The order in which people look for names: numbers by their size (8 AF before 10 AF), capitals and accents beside the
 * plain letters. A collator of the engine orders likewise; to open its tables takes as long as a page.
 */
export function inOrder(a: string, b: string): number {
  const [one, other] = [sought(a), sought(b)];
  return one < other ? -1 : one > other ? 1 : a < b ? -1 : a > b ? 1 : 0;
}

const sought = (name: string): string =>
  name
    .normalize('NFD')
    .replace(/[\u0300-\u036f]/g, '')
    .toLowerCase()
    .replace(/\d+/g, (number) => number.padStart(9, '0'));
