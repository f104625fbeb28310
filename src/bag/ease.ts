/** Ease of a lining: how much larger than its panel a loose layer is cut, as a share of the panel or as a length. */
import { libm } from '../numerics/index.ts';
import { polygonOf } from './curve.ts';
import { at } from './faults.ts';
import { ofHundred } from './formula.ts';
import type { ParseContext } from './parse-context.ts';
import type { LayerForm } from './schema-stacks.ts';
import type { BagOption, Ease, Join, Laid, Layer, Panel, Stack, Strap } from './types.ts';

/** Most that a lining is cut larger, as a share: beyond it, it is gathered. */
const MOST_EASE = 0.25;
/** Most by length, m: what it comes to as a share is looked at for every panel that has the stack. */
const MOST_LENGTH = 0.5;

export function onPanel({ grain, outline }: Pick<Panel, 'grain' | 'outline'>): Laid {
  const points = polygonOf(outline);
  return {
    grain,
    reach: (direction) => {
      const [c, s] = [libm.cos(direction), libm.sin(direction)];
      const along = points.map(([x, y]) => c * x + s * y);
      return Math.max(...along) - Math.min(...along);
    },
  };
}

/** A strap's length runs up its own frame. */
export const onStrap = ({ length, width }: Pick<Strap, 'length' | 'width'>): Laid => ({
  grain: 0,
  reach: (direction) => Math.abs(libm.sin(direction)) * length + Math.abs(libm.cos(direction)) * width,
});

/** Where a warp lies in its panel, rad counterclockwise from x. Parameters: grain of the panel; turn of the warp from it. */
export const warpFrom = (grain: number, turn: number): number => Math.PI / 2 + grain + turn;

/** Does the stack hold an ease by length? Then its laminate hangs on what it is laid on. */
export const hasLengths = (stack: Stack): boolean => stack.kind === 'layers' && stack.layers.some((l) => l.ease?.some((e) => e.length > 0));

/** Ease of a layer along its warp and weft as shares of what it lies on. */
export const easeShares = (layer: Pick<Layer, 'ease' | 'angle'>, on: Laid): readonly [number, number] => {
  const share = (k: 0 | 1): number => {
    const { share: of, length } = layer.ease?.[k] ?? { share: 0, length: 0 };
    return length === 0 ? of : length / on.reach(warpFrom(on.grain, layer.angle) + (k * Math.PI) / 2);
  };
  return [share(0), share(1)];
};

/** Written ease along warp and weft of a loose layer, null when there is none or after faults. */
export function resolveEase(ctx: ParseContext, path: string, form: Exclude<LayerForm, string>, join: Join): readonly [Ease, Ease] | null {
  if (form.ease === undefined) return null;
  const here = at(path, 'ease');
  if (join !== 'loose') ctx.faults.add(here, form.ease, 'an ease only on a loose layer: a joined one is as long as what it is joined to');
  const read = (written: string | number, where: string): Ease | null => {
    const text = typeof written === 'string' ? ofHundred(written) : written;
    if (typeof text === 'string' && ctx.isLength(text)) {
      const length = ctx.size(where, text, 'length', { min: 0, max: MOST_LENGTH });
      return length === null ? null : { share: 0, length };
    }
    const share = ctx.size(where, text, 'number', { min: 0, max: MOST_EASE });
    return share === null ? null : { share, length: 0 };
  };
  const both = Array.isArray(form.ease) ? form.ease.map((e, i) => read(e, at(here, i))) : [read(form.ease, here)];
  if (both.includes(null)) return null;
  const [warp, weft = warp] = both as Ease[];
  return [warp, weft];
}

/** Faults of eases by length that are more than a lining can hide in some panel, region or strap of some option. */
export function checkEases(
  ctx: ParseContext,
  stacks: readonly Stack[],
  options: readonly BagOption[],
  panels: readonly Panel[],
  straps: readonly Strap[],
): void {
  for (const stack of stacks) {
    if (stack.kind !== 'layers' || !hasLengths(stack)) continue;
    const lined = panels.filter((p) =>
      options.some((o) => o.stacks[p.name] === stack.name || p.regions.some((r) => (o.regions[`${p.name}/${r.name}`] ?? r.stack) === stack.name)),
    );
    const laid = [
      ...lined.map((p) => ({ what: `panel ${p.name}`, on: onPanel(p) })),
      ...straps.filter((s) => s.stack === stack.name).map((s) => ({ what: `strap ${s.name}`, on: onStrap(s) })),
    ];
    stack.layers.forEach((layer, i) => {
      const over = laid.filter(({ on }) => Math.max(...easeShares(layer, on)) > MOST_EASE).map((l) => l.what);
      if (over.length > 0)
        ctx.faults.addText(
          at(at(at('stacks', stack.name), i), 'ease'),
          `more than ${100 * MOST_EASE} % of ${over.slice(0, 5).join(', ')}${over.length > 5 ? ` and ${over.length - 5} more` : ''}`,
          `at most ${100 * MOST_EASE} % of everything the stack is used for: a lining cut larger is gathered`,
        );
    });
  }
}
