/** A stretch of an edge, by its panel and edge, whichever way these are told. */
interface Stretch {
  readonly panel: string | number;
  readonly edge: string | number;
  /** Fractions of the edge. */ readonly from: number;
  readonly to: number;
}

/** Do two stretches share some of an edge? Those that only touch at an end do not. */
export const runsOverlap = (a: Stretch, b: Stretch): boolean => a.panel === b.panel && a.edge === b.edge && a.from < b.to - 1e-9 && b.from < a.to - 1e-9;
