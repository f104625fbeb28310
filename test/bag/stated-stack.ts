/** A cloth by its figures for a bag file: mass, rigidity d in uN*m the same in every direction, 20 kN/m in the plane; `more` in place of any of them. */
export const statedStack = (gsm: number, d: number, more: object = {}) => ({
  mass: `${gsm} g/m2`,
  thickness: '0.5 mm',
  D11: `${d} uN.m`,
  D22: `${d} uN.m`,
  D66: `${d / 2} uN.m`,
  C11: '20 kN/m',
  C22: '20 kN/m',
  C66: '10 kN/m',
  ...more,
});
