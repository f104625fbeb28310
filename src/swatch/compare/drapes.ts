/** Round pieces of several cloths, each settled over the same disc, their shadows over one another. */
import { libm } from '../../numerics/index.ts';
import { FONT, INK, MUTED, PAPER, RULE } from '../../report/index.ts';
import { escapeXml, formatInches, formatMm } from '../../units/index.ts';
import { drape, SPECIMENS, SUPPORT_DISC, shadowOutline } from '../drape.ts';
import { ownMesh } from '../sizes.ts';
import { DASHES, INKS, shape } from './frame.ts';
import type { PlotNote } from './plots.ts';
import type { ComparedCloth } from './rows.ts';
import type { TableRow } from './table.ts';

/** One cloth's round piece at rest. */
export interface DrapedCloth {
  readonly name: string;
  /** false: it did not come to rest, so its figures are no reading. */ readonly settled: boolean;
  /** Drape coefficient, %. */ readonly coefficient: number;
  readonly folds: number;
  /** How far its lowest point hangs below the disc, m. */ readonly drop: number;
  /** Radius of its shadow, m, in even directions from the warp on, counterclockwise. */ readonly outline: Float64Array;
}

/** Diameter of the pieces, m: the standards' medium one for all, so that their shadows lie on one scale. */
const PIECE = SPECIMENS[1];

/**
 * A cloth's round piece, 0.30 m wide, over the 0.18 m disc, typical bolt: see drape(). onStep is told of each step of the solver; false stops it, and what is returned is not
 * settled. Parameter: mesh edge, m; default that of the bench. Source: BS 5058 / ISO 9073-9 (from memory).
 */
export function drapedCloth(cloth: ComparedCloth, mesh: number = ownMesh('drape', PIECE), onStep?: () => boolean | undefined): DrapedCloth {
  const r = drape({ sheet: cloth.sheets[1], mesh, length: PIECE, onProgress: () => onStep?.() });
  return { name: cloth.name, settled: r.status === 'settled', coefficient: r.reading, folds: r.more.folds!, drop: r.more.drop!, outline: shadowOutline(r) };
}

const WIDTH = 760;
const MIDDLE = { x: 300, y: 332 } as const;
const REACH = 250;

const px = (v: number): string => String(Math.round(v * 10) / 10);
const words = (x: number, y: number, content: string, more = ''): string => `<text x="${px(x)}" y="${px(y)}" ${more}>${escapeXml(content)}</text>`;

/** Shadows of the pieces over one another to one scale, each with its own line and mark, and its coefficient beside its name. Returns SVG text. */
export function drapesPlot(cloths: readonly DrapedCloth[], note: PlotNote): string {
  const scale = REACH / (PIECE / 2);
  const size = (m: number): string => (note.unit === 'in' ? formatInches(m) : formatMm(m, 0));
  const at = (outline: Float64Array, k: number): [number, number] => {
    const a = (2 * Math.PI * k) / outline.length;
    return [MIDDLE.x + scale * outline[k]! * libm.cos(a), MIDDLE.y - scale * outline[k]! * libm.sin(a)];
  };
  const circle = (r: number, more: string): string => `<circle cx="${MIDDLE.x}" cy="${MIDDLE.y}" r="${px(scale * r)}" fill="none" ${more}/>`;
  const out = [
    words(16, 26, 'Shadows of round pieces over a disc', 'font-size="16" font-weight="600"'),
    words(16, 46, 'seen from above, to one scale; the warp runs to the right', `font-size="12.5" fill="${MUTED}"`),
    circle(SUPPORT_DISC / 2, `stroke="${MUTED}"`),
    circle(PIECE / 2, `stroke="${RULE}" stroke-width="2"`),
    words(MIDDLE.x, MIDDLE.y + 4, `disc of ${size(SUPPORT_DISC)}`, `font-size="12" fill="${MUTED}" text-anchor="middle"`),
    words(MIDDLE.x, MIDDLE.y - REACH - 8, `piece of ${size(PIECE)}, laid flat`, `font-size="12" fill="${MUTED}" text-anchor="middle"`),
  ];
  cloths.forEach((c, i) => {
    const ink = INKS[i % INKS.length]!,
      dash = DASHES[i % DASHES.length]!,
      dashed = dash === '' ? '' : ` stroke-dasharray="${dash}"`,
      n = c.outline.length;
    const y = 90 + 46 * i,
      left = MIDDLE.x + REACH + 26;
    out.push(shape(i, left + 4, y) + ` fill="${ink}" stroke="${ink}"/>`, `<path d="M${left - 8} ${y}h24" stroke="${ink}" stroke-width="2"${dashed}/>`);
    out.push(words(left + 22, y + 4, c.name.length > 21 ? `${c.name.slice(0, 20)}\u2026` : c.name, `font-size="12.5" fill="${ink}"`));
    out.push(
      words(
        left + 22,
        y + 21,
        c.settled ? `drape ${c.coefficient.toFixed(0)} %, ${c.folds} folds` : 'not at rest: no reading',
        `font-size="12.5" fill="${MUTED}"`,
      ),
    );
    // What is not at rest has no shadow to be measured.
    if (!c.settled) return;
    out.push(
      `<path d="M${Array.from({ length: n }, (_, k) => at(c.outline, k).map(px).join(' ')).join('L')}Z" fill="none" stroke="${ink}" stroke-width="2" stroke-linejoin="round"${dashed}/>`,
    );
    // A mark where no other cloth has one, so that a line can be followed without its colour.
    for (let k = 0; k < 3; k++) {
      const [x, z] = at(c.outline, Math.round((n * (k + (i + 0.5) / cloths.length)) / 3) % n);
      out.push(`${shape(i, x, z)} fill="${ink}" stroke="${PAPER}"/>`);
    }
  });
  const foot = MIDDLE.y + REACH + 34;
  const notes = [
    'Typical bolt. Other numbers of folds can be at rest too; the coefficient depends less on them. BS 5058 / ISO 9073-9 (from memory).',
    `mesh of ${formatMm(ownMesh('drape', PIECE), 1)}; ${note.program}`,
  ];
  out.push(...notes.map((line, i) => words(16, foot + 16 * i, line, `font-size="11.5" fill="${MUTED}"`)));
  const height = foot + 16 * notes.length;
  const label = `Shadows of draped pieces: ${cloths.map((c) => `${c.name} ${c.settled ? `${c.coefficient.toFixed(0)} %` : 'not at rest'}`).join(', ')}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${height}" viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label="${escapeXml(label)}" font-family="${FONT}" fill="${INK}"><rect width="${WIDTH}" height="${height}" fill="${PAPER}"/>${out.join('')}</svg>\n`;
}

/** The same as rows of words, one value a cloth. */
export function drapesTable(cloths: readonly DrapedCloth[], unit: PlotNote['unit']): TableRow[] {
  const row = (label: string, value: (c: DrapedCloth) => string): TableRow => ({
    label,
    values: cloths.map((c) => (c.settled ? value(c) : 'not at rest')),
    bands: cloths.map(() => ''),
  });
  return [
    row('Drape coefficient', (c) => `${c.coefficient.toFixed(0)} %`),
    row('Folds', (c) => String(c.folds)),
    row('Hangs below the disc by', (c) => (unit === 'in' ? formatInches(c.drop) : formatMm(c.drop, 0))),
  ];
}

/** One line a cloth: figures and the shadow's radius every 5 degrees from the warp on, mm; empty where it did not come to rest. */
export function drapesCsv(cloths: readonly DrapedCloth[], program: string): string {
  const every = 10;
  const quoted = (s: string): string => (/[",\n]/.test(s) ? `"${s.replaceAll('"', '""')}"` : s);
  const places = Array.from({ length: 72 }, (_, k) => k);
  const head = ['cloth', 'drape coefficient %', 'folds', 'drop mm', ...places.map((k) => `radius at ${5 * k} deg mm`), 'program'];
  const line = (c: DrapedCloth): string[] => [
    c.name,
    ...(c.settled
      ? [c.coefficient.toFixed(2), String(c.folds), (1000 * c.drop).toFixed(1), ...places.map((k) => (1000 * c.outline[every * k]!).toFixed(2))]
      : Array.from({ length: 3 + places.length }, () => '')),
    program,
  ];
  return `${[head, ...cloths.map(line)].map((l) => l.map(quoted).join(',')).join('\r\n')}\r\n`;
}
