/**
 * How far a nut moves along its thread when it is turned back, mm: `θ/360 · P`, the lead of a single-start thread.
 * @param angle degrees @param pitch mm
 */
export const playOfBackOff = (angle: number, pitch: number): number => (angle / 360) * pitch;
