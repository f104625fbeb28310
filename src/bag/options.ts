/** Options: which stack each panel and region gets. */
import { at, oneOf } from './faults.ts';
import type { ParseContext } from './parse-context.ts';
import type { BagOption } from './types.ts';
import { EVERY_PANEL } from './words.ts';

/** What an option may speak of: panel names, and "panel/region" with the region's own stack. */
export interface Parts {
  readonly panels: ReadonlySet<string>;
  readonly regions: ReadonlyMap<string, string>;
}

/**
 * A complete option, or null after its faults. A panel that is not named takes the entry of "every panel"; a region that is not named keeps
 * the stack drawn with it.
 */
export function resolveOption(
  ctx: ParseContext,
  name: string,
  form: Readonly<Record<string, string>>,
  parts: Parts,
  stackKnown: (path: string, name: string) => void,
): BagOption | null {
  const path = at('options', name);
  const before = ctx.faults.faults.length;
  const entries = new Map(Object.entries(form));
  for (const [key, stack] of entries) {
    stackKnown(at(path, key), stack);
    if (key === EVERY_PANEL || parts.panels.has(key) || parts.regions.has(key)) continue;
    ctx.faults.addText(
      at(path, key),
      JSON.stringify(key),
      oneOf('a panel of this bag, "panel/region" or "every panel"', key, [EVERY_PANEL, ...parts.panels, ...parts.regions.keys()]),
    );
  }
  const all = entries.get(EVERY_PANEL);
  const missing = [...parts.panels].filter((p) => !entries.has(p) && all === undefined);
  if (missing.length > 0) ctx.faults.addText(path, `no stack for ${missing.slice(0, 6).join(', ')}`, `a stack for each panel, or "${EVERY_PANEL}"`);
  if (ctx.faults.faults.length > before) return null;
  return {
    name,
    stacks: Object.fromEntries([...parts.panels].map((p) => [p, entries.get(p) ?? (all as string)])),
    regions: Object.fromEntries([...parts.regions].map(([key, own]) => [key, entries.get(key) ?? own])),
  };
}
