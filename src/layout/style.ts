/** The one place for sizes, in points. Source of the minima: arm's length, bad light, gloves (see DEVELOPERS.md, Paper). */
export const mm = (value: number): number => (value * 72) / 25.4;

export const papers = { A4: { width: mm(210), height: mm(297) }, Letter: { width: 612, height: 792 } } as const;
export type PaperName = keyof typeof papers;

export const margins = { left: mm(14), right: mm(10), top: mm(25), bottom: mm(18) } as const;

export const sizes = { title: 20, plate: 24, heading: 14, step: 11.5, text: 11, torque: 14, small: 9.5, least: 9 } as const;

export const leading = 1.28;

/** Tick boxes of 6 mm with 2 mm between, for gloves; blanks of 9 mm by 25 mm to write in. */
export const box = { side: mm(6), gap: mm(2), blankHeight: mm(9), blankWidth: mm(25) } as const;

export const rule = { hair: 0.5, thin: 0.8, heavy: 2.2 } as const;
