/** One test to hand in: its reading, theory and error as CSV, the settled piece as a drawing, and both on a sheet with room for one's own readings. */
import { FONT, INK, MUTED, PAPER } from '../report/index.ts';
import { csvCell, escapeXml, formatMm } from '../units/index.ts';
import type { TestResult } from './result.ts';

/** What was tested, in words, and how. */
export interface TestedPiece {
  /** Title of the test and what a student does. */ readonly title: string;
  readonly how: string;
  readonly cloth: string;
  /** Where the cloth's figures come from. */ readonly story: string;
  /** soft, typical or stiff. */ readonly bolt: string;
  /** kg/m2 */ readonly arealMass: number;
  /** Overhang at 41.5 deg by theory, m, and angle of the strip from the warp, rad. */ readonly overhang: number;
  readonly cut: number;
  /** Mesh edge, m. */ readonly mesh: number;
  /** A length, m, in the reader's unit. */ readonly size: (metres: number) => string;
  /** Program and version. */ readonly program: string;
}

type Figures = Omit<TestResult, 'model' | 'x'>;

/** Own readings there is room for. */
const ROOM = 5;
const UNITS = { deg: 'deg', m: 'm', '1': '-', '%': '%' } as const;

const figure = (v: number | null): string => (v === null ? '' : String(Number(v.toPrecision(6))));
const shown = (v: number | null, unit: Figures['unit'], size: TestedPiece['size']): string =>
  v === null ? 'no closed form' : unit === 'm' ? size(v) : unit === 'deg' ? `${v.toFixed(2)}°` : unit === '%' ? `${v.toFixed(1)} %` : v.toPrecision(4);

/** Every figure of one test, a line each: name, value, unit. UTF-8, first line the names. Deterministic. */
export function testCsv(r: Figures, p: TestedPiece): string {
  const rows: readonly (readonly string[])[] = [
    ['figure', 'value', 'unit'],
    ['cloth', p.cloth, ''],
    ['bolt', p.bolt, ''],
    ['test', p.title, ''],
    ['mass per area', figure(1000 * p.arealMass), 'g/m2'],
    ['cut from the warp', figure((p.cut * 180) / Math.PI), 'deg'],
    ['overhang at 41.5 deg by theory', figure(1000 * p.overhang), 'mm'],
    ['bending length by theory', figure(500 * p.overhang), 'mm'],
    [`reading: ${r.quantity}`, r.status === 'settled' ? figure(r.reading) : '', UNITS[r.unit]],
    ['theory', figure(r.theory), UNITS[r.unit]],
    ['reading less theory', r.status === 'settled' ? figure(r.error) : '', UNITS[r.unit]],
    ['state', r.status, ''],
    ["largest force left over, over a mesh point's weight", figure(r.residual), ''],
    ['mesh edge', figure(1000 * p.mesh), 'mm'],
    ['mesh points', String(r.vertices), ''],
    ...Object.entries(r.more).map(([name, v]) => [name, figure(v), 'SI']),
    ['formula', r.formula, ''],
    ['source', r.source, ''],
    ['figures from', p.story, ''],
    ['program', p.program, ''],
  ];
  return `${rows.map((row) => row.map((c) => csvCell(c)).join(',')).join('\r\n')}\r\n`;
}

const WIDTH = 520;
const HEIGHT = 360;
const PAD = 40;

/**
 * The piece as it settled, to scale, with a bar of a round length: its triangles from the side, or (a round piece) from above. SVG text, with what was tested, source, mesh and
 * version under it. Parameters: three corners a triangle; 3n positions, m.
 */
export function testDrawing(r: Figures, p: TestedPiece, triVerts: Uint32Array, x: ArrayLike<number>): string {
  const up = r.test === 'drape' ? 1 : 2;
  const at = (v: number): [number, number] => [x[3 * v]!, x[3 * v + up]!];
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (const v of triVerts) {
    const [a, b] = at(v);
    [left, right, low, high] = [Math.min(left, a), Math.max(right, a), Math.min(low, b), Math.max(high, b)];
  }
  const scale = Math.min((WIDTH - 2 * PAD) / Math.max(right - left, 1e-3), (HEIGHT - 2 * PAD) / Math.max(high - low, 1e-3));
  const px = (v: number): string => String(Math.round(10 * v) / 10);
  const place = (v: number): string => {
    const [a, b] = at(v);
    return `${px(PAD + (a - left) * scale)} ${px(PAD + (high - b) * scale)}`;
  };
  let d = '';
  for (let t = 0; t < triVerts.length; t += 3) d += `M${place(triVerts[t]!)}L${place(triVerts[t + 1]!)}L${place(triVerts[t + 2]!)}Z`;
  const bar = [0.2, 0.1, 0.05, 0.02, 0.01, 0.005].find((b) => b * scale <= (WIDTH - 2 * PAD) / 3) ?? 0.005;
  const foot = Math.min(HEIGHT, 2 * PAD + (high - low) * scale);
  const line = (y: number, words: string): string => `<text x="16" y="${px(y)}" font-size="11.5" fill="${MUTED}">${escapeXml(words)}</text>`;
  const label = `${p.title}, ${p.cloth}: ${shown(r.reading, r.unit, p.size)}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${px(foot + 66)}" viewBox="0 0 ${WIDTH} ${px(foot + 66)}" role="img" aria-label="${escapeXml(label)}" font-family="${FONT}" fill="${INK}"><rect width="${WIDTH}" height="${px(foot + 66)}" fill="${PAPER}"/><text x="16" y="24" font-size="15" font-weight="600">${escapeXml(label)}</text><path d="${d}" fill="none" stroke="${INK}" stroke-width=".6"/><path d="M16 ${px(foot + 6)}h${px(bar * scale)}m0 -4v8M16 ${px(foot + 2)}v8" fill="none" stroke="${INK}"/><text x="${px(22 + bar * scale)}" y="${px(foot + 10)}" font-size="11.5">${formatMm(bar, 0)}</text>${line(foot + 30, `${p.bolt}; ${up === 1 ? 'from above' : 'from the side'}; ${r.status === 'settled' ? 'at rest' : 'NOT at rest: no reading'}; mesh of ${formatMm(p.mesh, 1)}, ${r.vertices} points; ${p.program}`)}${line(foot + 46, r.source.slice(0, 92))}</svg>\n`;
}

/** A sheet to hand in of one test: what is done, the piece, reading, theory and error, and room for one's own readings. Self-contained HTML for A4 and Letter. All names escaped. */
export function testSheet(r: Figures, p: TestedPiece, drawing: string): string {
  const row = (name: string, value: string): string => `<tr><th scope="row">${escapeXml(name)}</th><td>${escapeXml(value)}</td></tr>`;
  const settled = r.status === 'settled';
  const own = Array.from({ length: ROOM }, (_, i) => `<tr><th scope="row">${i + 1}</th><td class="blank"></td><td class="blank"></td></tr>`).join('');
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${escapeXml(`${p.title}: ${p.cloth}`)}</title>
<style>
body{font:15px/1.45 system-ui,'DejaVu Sans','Liberation Sans',sans-serif;color:#15201f;background:#fbfbf8;max-width:780px;margin:24px auto;padding:0 16px}
h1{font-size:22px}h2{font-size:16px;margin:22px 0 6px}table{border-collapse:collapse;width:100%;font-variant-numeric:tabular-nums}
th,td{border-bottom:1px solid #dfe3df;padding:5px 8px;text-align:left;vertical-align:top}
.small{color:#5b6967;font-size:12.5px}.blank{height:26px;border:1px solid #5b6967}svg{max-width:100%;height:auto}
section{break-inside:avoid}@page{margin:15mm}@media print{body{margin:0;max-width:none;background:#fff}}
</style></head><body>
<h1>${escapeXml(`${p.title}: ${p.cloth}`)}</h1>
<p>Name <span class="small">______________________________</span> Date <span class="small">________________</span></p>
<section><h2>The test</h2><p>${escapeXml(p.how)}</p>${drawing}</section>
<section><h2>Reading, theory, error</h2><table>${row('Read off the settled piece', settled ? shown(r.reading, r.unit, p.size) : 'not at rest: no reading')}${row('Theory', shown(r.theory, r.unit, p.size))}${row('Reading less theory', !settled || r.error === null ? '-' : shown(r.error, r.unit, p.size))}${row('Overhang at 41.5° by theory', p.size(p.overhang))}${row('Bending length by theory', p.size(p.overhang / 2))}${row('Mass per area', `${(1000 * p.arealMass).toFixed(0)} g/m²`)}${row('Cut', `${((p.cut * 180) / Math.PI).toFixed(0)}° from the warp`)}</table></section>
<section><h2>Your own readings</h2><table><thead><tr><td></td><th scope="col">face up</th><th scope="col">back up</th></tr></thead><tbody>${own}<tr><th scope="row">mean</th><td class="blank"></td><td class="blank"></td></tr><tr><th scope="row">less theory</th><td class="blank"></td><td class="blank"></td></tr></tbody></table></section>
<section><h2>Where the figures come from</h2><p class="small">${escapeXml(`${r.quantity}: ${r.formula}. ${r.source}. ${p.cloth}, ${p.bolt}: ${p.story} Mesh of ${formatMm(p.mesh, 1)}, ${r.vertices} points. ${p.program}.`)}</p></section>
</body></html>
`;
}
