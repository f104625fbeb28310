/** A bag file without the hems of its open edges: what sums by hand, or sizes in proportion, are worked out for. */
export function withoutFinishes<T extends { readonly panels: object }>(doc: T): T {
  const panels = Object.entries(doc.panels).map(([name, { finishes: _, ...panel }]: [string, Record<string, unknown>]) => [name, panel]);
  return { ...doc, panels: Object.fromEntries(panels) };
}
