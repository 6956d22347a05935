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
  | { readonly kind: 'across'; readonly text: string };

/** What a run of marks is to a reader who does not see the page. */
export type Tag = 'H1' | 'H2' | 'H3' | 'P' | 'TR' | 'Figure';

/** Marks `from` up to `to` (exclusive) of a page belong together. Marks outside all parts are furniture. */
export interface Part {
  readonly tag: Tag;
  readonly from: number;
  readonly to: number;
}

export interface Page {
  readonly width: number;
  readonly height: number;
  readonly marks: readonly Mark[];
  readonly parts: readonly Part[];
}

export interface Paper {
  readonly title: string;
  readonly subject: string;
  readonly language: string;
  readonly pages: readonly Page[];
}

/** Measuring is passed in: the layout knows no font. */
export interface Measure {
  /** Width of a text in points. */
  width(text: string, size: number, weight: Weight): number;
}

export const shift = (marks: readonly Mark[], dx: number, dy: number): Mark[] =>
  marks.map((mark): Mark => {
    switch (mark.kind) {
      case 'line':
        return { ...mark, x: mark.x + dx, y: mark.y + dy, toX: mark.toX + dx, toY: mark.toY + dy };
      case 'polygon':
        return { ...mark, points: mark.points.map(([x, y]) => [x + dx, y + dy] as const) };
      case 'across':
        return mark;
      default:
        return { ...mark, x: mark.x + dx, y: mark.y + dy };
    }
  });
