/** Boxes on pages: what layout makes and an emitter draws. All lengths in points, y downwards from the top edge. */
export type Weight = 'regular' | 'semibold' | 'bold';

export type Mark =
  | {
      readonly kind: 'text';
      readonly x: number;
      readonly y: number;
      readonly size: number;
      readonly weight: Weight;
      readonly text: string;
      readonly grey?: boolean;
    }
  | {
      readonly kind: 'line';
      readonly x: number;
      readonly y: number;
      readonly toX: number;
      readonly toY: number;
      readonly width: number;
      readonly dash?: boolean;
    }
  | {
      readonly kind: 'box';
      readonly x: number;
      readonly y: number;
      readonly w: number;
      readonly h: number;
      readonly width: number;
      readonly fill?: 'light' | 'black';
    }
  | { readonly kind: 'circle'; readonly x: number; readonly y: number; readonly r: number; readonly width: number }
  | { readonly kind: 'polygon'; readonly points: readonly (readonly [number, number])[]; readonly width: number; readonly fill?: 'black' }
  /** A QR code: rows of modules, dark or not. */
  | { readonly kind: 'code'; readonly x: number; readonly y: number; readonly size: number; readonly dark: readonly (readonly boolean[])[] }
  | { readonly kind: 'across'; readonly text: string };

/**
 * What a piece is to a reader who does not see the page (the structure types of ISO 32000-1, 14.8.4). `Div` only groups;
 * an `Artifact` stands on every page and is passed over.
 */
export type Tag = 'H1' | 'H2' | 'H3' | 'P' | 'TR' | 'TH' | 'TD' | 'Figure' | 'Div' | 'Artifact';

/** How a group lies on a screen, where there is no page to place it on. */
export type Look = 'step' | 'beside' | 'flow' | 'frame' | 'heavy-frame' | 'caution' | 'boxes' | 'head' | 'right';

/** What is ticked or written on paper, and its key in the record that a screen keeps. */
export type Field =
  | { readonly kind: 'tick'; readonly key: string; readonly label: string }
  | {
      readonly kind: 'blank';
      readonly key: string;
      readonly label: string;
      readonly unit: string;
      readonly limit?: Limit;
      readonly workedOut?: WorkedOut;
    };

/** What a number in a blank must lie within, inclusive, in its unit. */
export interface Limit {
  readonly low: string | null;
  readonly high: string | null;
  /** In words, as it stands above the blank. */
  readonly says: string;
}

/** The keys of the blanks from which a number is worked out, all in its unit, and what is always added. */
export interface WorkedOut {
  readonly plus: readonly string[];
  readonly minus: readonly string[];
  readonly constant: string;
}

/** Marks that belong together, with what they are. One tree serves the drawn page, its tags, and the screen. */
export interface Element {
  readonly kind: 'element';
  readonly tag: Tag;
  readonly children: readonly Piece[];
  /** The words of a paragraph before they were broken into lines. */
  readonly text?: string;
  /** What a figure shows, in words. */
  readonly alt?: string;
  /** Where a figure stands. */
  readonly area?: { readonly x: number; readonly y: number; readonly w: number; readonly h: number };
  readonly look?: Look;
  readonly field?: Field;
  /** Rows of the same table have the same. */
  readonly table?: object;
}

export type Piece = Mark | Element;

export interface Page {
  readonly width: number;
  readonly height: number;
  readonly pieces: readonly Piece[];
}

export interface Paper {
  readonly title: string;
  readonly subject: string;
  readonly language: string;
  readonly pages: readonly Page[];
  /** The same content in one run, without heads and feet, for a screen. */
  readonly content: readonly Piece[];
}

/** Measuring is passed in: the layout knows no font. */
export interface Measure {
  /** Width of a text in points. */
  width(text: string, size: number, weight: Weight): number;
}

export const element = (tag: Tag, children: readonly Piece[], more: Omit<Element, 'kind' | 'tag' | 'children'> = {}): Element => ({
  kind: 'element',
  tag,
  children,
  ...more,
});

/** All marks, in the order in which they are drawn. */
export function marksOf(pieces: readonly Piece[], into: Mark[] = []): Mark[] {
  for (const piece of pieces) {
    if (piece.kind === 'element') marksOf(piece.children, into);
    else into.push(piece);
  }
  return into;
}

export const shift = <T extends Piece>(pieces: readonly T[], dx: number, dy: number): T[] =>
  pieces.map((piece) => moved(piece, dx, dy) as T);

function moved(piece: Piece, dx: number, dy: number): Piece {
  switch (piece.kind) {
    case 'element': {
      const { area } = piece;
      const children = shift(piece.children, dx, dy);
      return area ? { ...piece, children, area: { ...area, x: area.x + dx, y: area.y + dy } } : { ...piece, children };
    }
    case 'line':
      return { ...piece, x: piece.x + dx, y: piece.y + dy, toX: piece.toX + dx, toY: piece.toY + dy };
    case 'polygon':
      return { ...piece, points: piece.points.map(([x, y]) => [x + dx, y + dy] as const) };
    case 'across':
      return piece;
    default:
      return { ...piece, x: piece.x + dx, y: piece.y + dy };
  }
}
