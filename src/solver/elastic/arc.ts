/**
 * Arc-corrected edge lengths. A phiY sheet's edge is an arc; its chord is shorter by kappa^2 l^3/24. Charging that shortening
 * to the membrane is what locks constant-strain triangles, so each edge's length strain is raised by phi(y), y = kappa l:
 *   phi(y) = (y^2/24)/(1 + y^2/30)
 * The denominator bounds the correction where a crumpled state bends an edge by more than a radian, where no arc is meant.
 * Valid for y < 0.5 (5 mm mesh for 10 mm radii). Source: derived for this solver; checked against the elastica tables.
 */
export const phi = (y: number): number => (y * y) / 24 / (1 + (y * y) / 30);

/** d phi/dy = (y/12)/(1 + y^2/30)^2 */
export const phi1 = (y: number): number => {
  const d = 1 + (y * y) / 30;
  return y / 12 / (d * d);
};

/** d2 phi/dy2 = (1/12)(1 - y^2/10)/(1 + y^2/30)^3 */
export const phi2 = (y: number): number => {
  const d = 1 + (y * y) / 30;
  return (1 - (y * y) / 10) / 12 / (d * d * d);
};
