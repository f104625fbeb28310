/** A sheet to hand in: what was tested, theory's figures, plots, and room for one's own readings. Self-contained HTML that prints on A4 and Letter. */
import { escapeXml } from '../../units/index.ts';
import type { TableRow } from './table.ts';

export interface LabSheet {
  readonly title: string;
  readonly names: readonly string[];
  readonly stories: readonly string[];
  readonly table: readonly TableRow[];
  readonly engineer: readonly TableRow[];
  /** SVG texts. */ readonly plots: readonly string[];
  readonly program: string;
}

/** A strip over a table's edge, with what is read named. */
const SKETCH = `<svg width="400" viewBox="0 0 390 150" role="img" aria-label="A strip pushed out over a table's edge until its tip meets a line 41.5 degrees below level; the overhang is measured along the strip"><path d="M0 50H130V140H0Z" fill="#dfe3df" stroke="#15201f"/><path d="M10 46H130C200 46 226 96 236 140" fill="none" stroke="#15201f" stroke-width="3"/><path d="M130 48L236 140" stroke="#5b6967" stroke-dasharray="5 4"/><path d="M130 48H250" stroke="#5b6967" stroke-dasharray="2 4"/><path d="M168 48A38 38 0 0 1 159 73" fill="none" stroke="#15201f"/><g font-size="12" font-family="sans-serif" fill="#15201f"><text x="174" y="66">41.5°</text><text x="212" y="84">overhang O, along the strip</text><text x="14" y="100">ruler holds it down</text></g></svg>`;

/** A round piece over a disc, seen from above and from the side. */
const DRAPE_SKETCH = `<svg width="400" viewBox="0 0 390 130" role="img" aria-label="A round piece of cloth lies on a smaller disc; its shadow from above is a wavy ring round the disc"><g fill="none" stroke="#15201f"><circle cx="80" cy="66" r="56" stroke-dasharray="4 4"/><path d="M80 18C104 18 110 38 124 46C140 58 122 74 120 88C116 108 96 102 80 112C62 120 50 104 38 94C22 84 38 66 40 52C44 30 60 18 80 18Z" fill="#dfe3df"/><circle cx="80" cy="66" r="32" fill="#fff"/><path d="M214 40H314M244 40V124M284 40V124" stroke-width="1.2"/><path d="M214 37H314C330 40 332 60 334 78M214 37C198 40 196 60 194 78" stroke-width="3"/></g><g font-size="12" font-family="sans-serif" fill="#15201f"><text x="62" y="70">disc</text><text x="126" y="24">flat piece</text><text x="112" y="122">shadow</text></g></svg>`;
/** Where the settled pieces go, once there are any. */
const DRAPED = '<!--draped-->';

/** The sheet with the drape test's settled figures and its plot in their place. */
export const sheetWithDrapes = (sheet: string, names: readonly string[], rows: readonly TableRow[], plot: string): string =>
  sheet.replace(
    DRAPED,
    () =>
      `<h3>What settled</h3><table><thead><tr><td></td>${names.map((n) => `<th scope="col">${escapeXml(n)}</th>`).join('')}</tr></thead><tbody>${body(rows)}</tbody></table>${plot}`,
  );

const cells = (row: TableRow): string =>
  row.values.map((v, i) => `<td>${escapeXml(v)}${row.bands[i] === '' ? '' : `<br><small>${escapeXml(row.bands[i]!)}</small>`}</td>`).join('');
const body = (rows: readonly TableRow[]): string => rows.map((r) => `<tr><th scope="row">${escapeXml(r.label)}</th>${cells(r)}</tr>`).join('');

/** The sheet as one HTML document; nothing in it is fetched. All names are escaped. Deterministic. */
export function labSheet(s: LabSheet): string {
  const head = s.names.map((n) => `<th scope="col">${escapeXml(n)}</th>`).join('');
  const blank = s.names.map(() => '<td class="blank"></td>').join('');
  const own = ['lengthwise, face up', 'lengthwise, back up', 'crosswise, face up', 'crosswise, back up', 'at 45°'];
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${escapeXml(s.title)}</title>
<style>
body{font:15px/1.45 system-ui,'DejaVu Sans','Liberation Sans',sans-serif;color:#15201f;background:#fbfbf8;max-width:780px;margin:24px auto;padding:0 16px}
h1{font-size:22px}h2{font-size:16px;margin:22px 0 6px}table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}
th,td{border-bottom:1px solid #dfe3df;padding:5px 8px;text-align:left;vertical-align:top}thead th{border-bottom:2px solid #15201f}
small,.small{color:#5b6967;font-size:12.5px}.blank{height:26px;border:1px solid #5b6967}svg{max-width:100%;height:auto}
section{break-inside:avoid}@page{margin:15mm}@media print{body{margin:0;max-width:none;background:#fff}}
</style></head><body>
<h1>${escapeXml(s.title)}</h1>
<p>Name <span class="small">______________________________</span> Date <span class="small">________________</span></p>
<section><h2>The test</h2>${SKETCH}
<p>Cut strips 25 mm wide, lengthwise, crosswise and at 45°. Push a strip out over a table's edge until its tip meets a line 41.5° below level. Write down how far it hangs over. Half of that is the bending length c.</p>
<p class="small">Bending rigidity B = w c³, w the weight per area. Theory: B θ″ + w (L − s) cos θ = 0 (Peirce 1930; Rohde 1953). 5 % in overhang is 15 % in rigidity.</p></section>
<section><h2>What theory expects</h2><table><thead><tr><td></td>${head}</tr></thead><tbody>${body(s.table)}</tbody></table></section>
<section><h2>Your readings of the overhang</h2><table><thead><tr><td></td>${head}</tr></thead><tbody>${own.map((o) => `<tr><th scope="row">${escapeXml(o)}</th>${blank}</tr>`).join('')}<tr><th scope="row">mean</th>${blank}</tr><tr><th scope="row">reading less theory</th>${blank}</tr></tbody></table></section>
<section><h2>The drape test</h2>${DRAPE_SKETCH}
<p>Cut a round piece of 300 mm (11 13/16 in). Lay it centred on a disc of 180 mm (7 1/16 in) and let the rim hang. Draw round its shadow on paper from straight above, cut the shadow out and weigh it; weigh discs of the same paper of 300 and 180 mm. Drape coefficient = (shadow less small disc) over (large disc less small disc).</p>
<p class="small">100 % is a board, 0 % cloth that hangs straight down. BS 5058 / ISO 9073-9 (from memory). The same piece folds otherwise each time: lay it anew five times, face up and back up.</p>
${DRAPED}
<table><thead><tr><td></td>${head}</tr></thead><tbody>${['shadow, g', 'disc of 300 mm, g', 'disc of 180 mm, g', 'coefficient, %', 'folds', 'reading less what settled'].map((o) => `<tr><th scope="row">${o}</th>${blank}</tr>`).join('')}</tbody></table></section>
${s.plots.map((p) => `<section>${p}</section>`).join('\n')}
<section><h2>For the engineer</h2><table><thead><tr><td></td>${head}</tr></thead><tbody>${body(s.engineer)}</tbody></table></section>
<section><h2>Where the figures come from</h2><ul>${s.names.map((n, i) => `<li>${escapeXml(n)}: ${escapeXml(s.stories[i]!)}</li>`).join('')}</ul>
<p class="small">${escapeXml(s.program)}. Theory is that of a narrow strip, clamped level, inextensible and linear in bending. Presets marked "estimate" are no measurement of your cloth.</p></section>
</body></html>
`;
}
