import { type Bag, BagError, type Fault, type PanelRole } from '../../bag/types.ts';

/** The bag with an option whose bending is `factor` times as large on some panels, regions included; in-plane stiffness and what lies in the seam allowances stay, and the mass unless it grows. */
export const withBending = (bag: Bag, option: string, panels: readonly string[], factor: number, mass: 'stays' | 'grows' = 'stays'): Bag => ({
  ...bag,
  options: bag.options.map((o) =>
    o.name === option ? { ...o, bending: Object.fromEntries(panels.map((p) => [p, factor])), ...(mass === 'grows' ? { bendingMass: mass } : {}) } : o,
  ),
});

/** Names of panels as asked: a list, or all. Adds what is wrong to `faults`. */
export function panelsOf(bag: Bag, asked: readonly string[] | 'all' | undefined, faults: Fault[]): readonly string[] {
  const names = bag.panels.map((p) => p.name);
  if (asked === undefined || asked === 'all') return names;
  const expected = `"all", or some of ${names.map((n) => `"${n}"`).join(', ')}`;
  if (!Array.isArray(asked) || asked.length === 0) {
    faults.push({ path: 'panels', got: JSON.stringify(asked) ?? String(asked), expected });
    return [];
  }
  asked.forEach((name, i) => {
    if (!names.includes(name) || asked.indexOf(name) !== i)
      faults.push({ path: `panels.${i}`, got: JSON.stringify(name) ?? String(name), expected: `${expected}, each once` });
  });
  return names.filter((n) => asked.includes(n));
}

const GROUPS: readonly (readonly PanelRole[])[] = [['front', 'back'], ['side', 'gusset'], ['body'], ['base'], ['flap'], ['pocket', 'strap', 'trim', 'flat']];

/** The asked panels in groups that a maker would give one stack: front and back, sides, body, base, flap, the rest. */
export const groupsOf = (bag: Bag, panels: readonly string[]): readonly (readonly string[])[] =>
  GROUPS.map((roles) => bag.panels.filter((p) => panels.includes(p.name) && roles.includes(p.role)).map((p) => p.name)).filter((g) => g.length > 0);

/** Throws what was found. */
export function refuse(faults: readonly Fault[]): void {
  if (faults.length > 0) throw new BagError(faults);
}
