import type { Cloth, SwatchResult, SwatchSetup } from '../index.ts';
import type { Core } from './core.ts';

/** A test as it was run: nothing left to be chosen. */
export type Ran = SwatchSetup & { readonly length: number; readonly cut: number; readonly shown: string };

/** The result as data: SI (cut rad), numbers as computed. `reading`, `theory` and `error` in `unit`; `error` is reading less theory, null without theory. */
export function swatchRecord(core: Core, material: string, setup: Ran, r: SwatchResult): Record<string, unknown> {
  const { test, reading, theory, error, unit, quantity, status, residual, formula, source, load, more, vertices } = r;
  const { sheet, length, mesh, shown, cut } = setup;
  return {
    test,
    material,
    quantity,
    unit,
    reading,
    theory,
    error,
    status,
    residual,
    formula,
    source,
    notes: core.swatchNotes(setup, r),
    sheet,
    strip: {
      length,
      width: core.testWidth(test, length),
      cut,
      rigidity: core.stripRigidity(sheet.bending, cut),
      weight: sheet.arealMass * core.GRAVITY,
      load: Number.isFinite(load) ? load : null,
    },
    mesh: { edge: mesh, kind: shown, vertices },
    more,
  };
}

/** The result in words, one figure a line. */
export function swatchText(core: Core, material: string, cloth: Cloth | null, setup: Ran, r: SwatchResult): string {
  const unit = r.unit === '1' ? '' : r.unit === 'm' ? ' mm' : r.unit === '%' ? ' %' : ` ${r.unit}`;
  const scale = r.unit === 'm' ? 1000 : 1;
  const show = (v: number, digits = 5) => `${plain(v * scale, digits)}${unit}`;
  const sign = (text: string) => (text.startsWith('-') ? text : `+${text}`);
  const part = r.theory !== null && r.theory !== 0 && r.unit !== 'deg' ? ` (${sign(plain((100 * (r.error as number)) / r.theory, 2))} %)` : '';
  const { sheet, length, cut } = setup;
  const B = core.stripRigidity(sheet.bending, cut);
  const disc = r.test === 'drape';
  const width = core.testWidth(r.test, length);
  const size = disc
    ? `disc of ${core.formatMm(length)}`
    : `${core.formatMm(length)} long, ${core.formatMm(width)} wide, cut ${core.formatAngle(cut)} from the warp`;
  const rows: [string, string][] = [
    ['cloth', cloth === null ? core.formatArealMass(sheet.arealMass) : aboutCloth(cloth)],
    [disc ? 'specimen' : 'strip', `${size}; ${setup.shown} mesh of ${core.formatMm(setup.mesh, 2)}, ${r.vertices} vertices`],
    ['reading', `${show(r.reading)}, ${r.quantity}`],
    ['theory', r.theory === null ? noTheory(r) : show(r.theory)],
  ];
  if (r.error !== null) rows.push(['error', `${sign(show(r.error, 2))}${part}`]);
  rows.push([
    'status',
    `${r.status === 'settled' ? 'settled' : 'NOT at rest'}, largest force left over ${r.residual.toExponential(1)} of a mesh point's weight`,
  ]);
  if (r.more.restHeight !== undefined)
    rows.push([
      'this one',
      `comes to rest with its tip at ${plain(r.more.restHeight, 3)} of its length above the foot, leaning ${plain(r.more.restTipAngle, 3)} deg off upright there`,
    ]);
  if (disc) rows.push(['folds', `${r.more.folds}, one of several numbers that can rest`]);
  for (const note of core.swatchNotes(setup, r)) rows.push(['note', note]);
  for (const line of core.besidePublished(r, cloth?.id ?? null)) rows.push(['beside', line]);
  rows.push(['formula', r.formula]);
  rows.push([
    'with',
    disc
      ? `bending length ${core.formatMm(r.more.bendingLength)}, areal mass ${core.formatGsm(sheet.arealMass)}`
      : `B = ${core.formatRigidity(B)} along the strip, w = ${plain(sheet.arealMass * core.GRAVITY, 3)} N/m2, L = ${core.formatMm(length)}, w L^3/B = ${plain(r.load, 4)}${given(r)}`,
  ]);
  rows.push(['source', r.source]);
  return `${[`${r.test}: ${material}`, ...rows.map(([name, words]) => `  ${name.padEnd(9)} ${words}`)].join('\n')}\n`;
}

/** Figures without an exponent as far as a reader can still count the zeros. */
function plain(v: number, digits: number): string {
  const text = v.toPrecision(digits);
  return Math.abs(v) > 0 && Math.abs(v) < 1e-4 ? Number(text).toExponential() : String(Number(text));
}

/** Where the cloth's figures come from, without its name and without "estimate (estimate, ...)". */
const aboutCloth = (cloth: Cloth): string =>
  (cloth.story.startsWith(`${cloth.name}: `) ? cloth.story.slice(cloth.name.length + 2) : cloth.story).replace(/\b(\w+) \(\1\b(.*)\)$/, '$1$2');

function noTheory(r: SwatchResult): string {
  if (r.test === 'drape') return 'none: no closed form for a buckled ring';
  if (r.test === 'on-edge') return 'none for a strip that twists when it bends (cut off the axes)';
  return `none at this load, w L^3/B = ${plain(r.load, 3)}`;
}

/** What a test sets of itself besides the strip. */
function given(r: SwatchResult): string {
  if (r.more.lean !== undefined) return `, lean = ${plain(r.more.lean, 3)} deg`;
  return r.more.tipLoad === undefined ? '' : `, P L^2/B = ${plain(r.more.tipLoad, 3)}`;
}
