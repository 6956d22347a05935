import { parseQuantity } from '../quantity/quantity.js';

/** `alternator to 45 Nm`: the name; null where that is none. */
export function withoutFigure(object: string): string | null {
  const [, name, figure = ''] = /^(\S+)\s+(?:(?:to|with|at)\s+)?(.+)$/.exec(object) ?? [];
  return name !== undefined && parseQuantity(figure, 'any').ok ? name : null;
}
