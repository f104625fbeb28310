import { GRAVITY, libm } from '../../numerics/index.ts';
import { DEGREE, escapeXml, formatAngle, formatInches, INCH, POUND, trimmed } from '../../units/index.ts';
import { FONT_ATTRIBUTES, fitLines, line, px, rect, text } from '../picture/svg.ts';
import { INK, MAT, MUTED, PAPER, RULE } from '../picture/tokens.ts';
import { insideWords } from './advice.ts';
import { recommend } from './recommend.ts';
import type { HangReport, SweepStep } from './types.ts';
import { drawnDistances } from './words.ts';

const WIDTH = 760;
const LEFT = 190;
const RIGHT = 28;
const HEAD = 62;
const ROW = 112;
const GAP = 18;
const AXIS = 58;

/** A figure against the swept value: its name with the unit, its value at a step, the limit up to which a bag hangs level. */
interface Figure {
  readonly label: string;
  readonly unit: string;
  readonly value: (s: SweepStep) => number | null;
  readonly limit?: number;
  /** Lengths in inches have marks at halves, quarters, eighths. */ readonly inches?: boolean;
  /** Axis from nought even where the values lie close together: a few hundredths of a pull are no slope. */ readonly whole?: boolean;
}

interface Chart {
  readonly title: string;
  readonly axis: string;
  readonly steps: readonly { readonly x: number; readonly step: SweepStep }[];
  /** What the file has, at each of its distances; null where that is no part of the chart. */
  readonly drawn: { readonly at: readonly number[]; readonly step: SweepStep } | null;
  readonly level: readonly { readonly from: number; readonly to: number; readonly words: string }[];
  /** The place recommended; null: none of the chart's. */ readonly best: { readonly at: readonly number[]; readonly step: SweepStep } | null;
  /** The swept value is a length in inches. */ readonly inches: boolean;
  readonly figures: readonly Figure[];
}

const scaled = (v: number | null, by: number): number | null => (v === null ? null : v * by);

/**
 * Small plots under one another as SVG text: tilt, mouth sag, drop, force per anchor against the distance from the side; with loads, base sag, drop and
 * force per anchor against the load as well. What hangs level lies on hatching under a bracket that says so; the anchors as drawn are a diamond at each of
 * their distances; a step that is not at rest is an open square, one that could not be hung a cross at the foot. Lengths are in `unit`; pulls in newtons, or
 * (`weight`) as what weighs as much, kg or with inches lb. A figure that no step has is left out.
 */
export function hangSvg(r: HangReport, unit: 'mm' | 'in' = 'mm', pulls: 'N' | 'weight' = 'N'): string {
  const a = r.anchors,
    inches = unit === 'in',
    one = inches ? INCH : 0.001,
    told = (m: number): string => (inches ? formatInches(m) : `${trimmed(m * 1000, 1)} mm`),
    mass = inches && pulls === 'weight' ? { unit: 'lb', one: POUND } : { unit: 'kg', one: 1 },
    force: Figure =
      pulls === 'N'
        ? { label: 'force per anchor', unit: 'N', value: (s) => s.force, whole: true }
        : { label: 'pull at an anchor', unit: `${mass.unit}, as a weight`, value: (s) => scaled(s.force, 1 / (GRAVITY * mass.one)), whole: true },
    best = recommend(a).index,
    drop: Figure = { label: 'drop', unit, inches, value: (s) => scaled(s.drop, 1 / one) };
  const charts: Chart[] = [
    {
      title: `${a.bag}, ${a.option}, ${a.stance}: strap ${a.strap}, ${insideWords(a)}`,
      axis: `distance of the anchors from the side, ${unit}`,
      steps: a.steps.map((step) => ({ x: step.distance / one, step })),
      drawn: { at: drawnDistances(a).map((d) => d / one), step: a.drawn.step },
      best:
        best === null
          ? null
          : best < 0
            ? { at: drawnDistances(a).map((d) => d / one), step: a.drawn.step }
            : { at: [a.steps[best]!.distance / one], step: a.steps[best]! },
      level: a.level.map((l) => ({
        from: l.from / one,
        to: l.to / one,
        words: l.from === l.to ? `level at ${told(l.from)}` : `level ${told(l.from)} to ${told(l.to)}`,
      })),
      inches,
      figures: [
        { label: 'tilt', unit: 'deg', value: (s) => scaled(s.tilt, 1 / DEGREE), limit: a.limits.tilt / DEGREE },
        { label: 'mouth sag', unit: '% of height', value: (s) => scaled(s.mouthSag, 100), limit: 100 * a.limits.mouthSag },
        drop,
        force,
      ],
    },
  ];
  if (r.load !== null)
    charts.push({
      title: 'as drawn, loaded',
      axis: `load, ${mass.unit}`,
      steps: r.load.steps.map((step) => ({ x: step.load / mass.one, step })),
      drawn: null,
      best: null,
      level: [],
      inches: false,
      figures: [{ label: 'base sag', unit, inches, value: (s) => scaled(s.baseSag, 1 / one) }, drop, force],
    });
  let y = 0;
  const body = charts.map(withKnown).map((c) => {
    const made = paintChart(c, y);
    y += heightOf(c);
    return made;
  });
  const name = `Strap ${a.strap} of ${a.bag}: tilt up to ${formatAngle(Math.max(0, ...a.steps.map((s) => s.tilt ?? 0)))}`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${px(y)}" viewBox="0 0 ${WIDTH} ${px(y)}" role="img" aria-label="${escapeXml(name)}" ${FONT_ATTRIBUTES}><defs><pattern id="level" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V8" stroke="${MAT}" stroke-width="1.6" opacity=".35"/></pattern></defs>${rect(0, 0, WIDTH, y, PAPER)}${body.join('')}</svg>\n`;
}

/** Without the figures that nothing at rest has, such as the sag of a base of a bag without one. */
function withKnown(c: Chart): Chart {
  const still = [...c.steps.map((s) => s.step), ...(c.drawn ? [c.drawn.step] : [])].filter((s) => s.status === 'settled');
  return still.length === 0 ? c : { ...c, figures: c.figures.filter((f) => still.some((s) => f.value(s) !== null)) };
}

/** A title says what is inside, and that may take more than one line. */
const titleOf = (c: Chart): readonly string[] => fitLines(c.title, WIDTH - 32, 15, 4);
const LINE = 19;
const headOf = (c: Chart): number => HEAD + LINE * (titleOf(c).length - 1);
const heightOf = (c: Chart): number => headOf(c) + c.figures.length * (ROW + GAP) + AXIS;

/** The first of start, 2 start, 4 start ... that is not smaller than `least`. */
function doubled(start: number, least: number): number {
  let step = start;
  while (step < least * (1 - 1e-9)) step *= 2;
  return step;
}

/** Even marks from at or under low to at or over high, about four steps of 1, 2 or 5; of inches, of a half, a quarter and so on. */
export function marksFor(low: number, high: number, inches = false): number[] {
  // Values that are all but alike still get a scale whose figures can be read.
  const raw = Math.max(high - low, 0.05 * Math.abs(high), 1e-9) / 4,
    power = libm.tenTo(libm.decimalExponent(raw)),
    // A ruler's own parts down to sixteenths; finer ones are written out as decimals anyway.
    step = inches && raw > 1 / 32 ? doubled(1 / 32, raw) : [1, 2, 5, 10].find((k) => k * power >= raw * (1 - 1e-9))! * power,
    first = Math.floor(low / step + 1e-9),
    last = Math.max(first + 1, Math.ceil(high / step - 1e-9));
  return Array.from({ length: last - first + 1 }, (_, i) => Number(((first + i) * step).toPrecision(12)));
}

/** A mark's figure: a decimal, or of inches a fraction where the mark is on a ruler's sixteenths. */
const markText = (v: number, inches: boolean): string => (inches && Number.isInteger(16 * v) ? formatInches(v * INCH).replace(/ in$/, '') : String(v));

function paintChart(c: Chart, top: number): string {
  const xs = [...c.steps.map((s) => s.x), ...(c.drawn?.at ?? [])],
    marks = marksFor(Math.min(...xs), Math.max(...xs), c.inches),
    [x0, x1] = [marks[0]!, marks.at(-1)!],
    across = (v: number): number => LEFT + ((v - x0) / (x1 - x0)) * (WIDTH - LEFT - RIGHT),
    first = top + headOf(c),
    foot = first + c.figures.length * (ROW + GAP) - GAP;
  const out = titleOf(c).map((t, i) => text(16, top + 24 + LINE * i, t, { size: 15, weight: 600 }));
  for (const l of c.level) {
    // A single step is as wide as its mark.
    const [from, to] = [across(l.from) - 6, across(l.to) + 6];
    out.push(rect(from, first, to - from, foot - first, 'url(#level)'));
    out.push(`<path d="M${px(from)} ${px(first - 4)}v-8H${px(to)}v8" stroke="${MAT}" stroke-width="1.5" fill="none"/>`);
    const middle = Math.min(Math.max((from + to) / 2, LEFT + 60), WIDTH - RIGHT - 60);
    out.push(text(middle, first - 17, l.words, { size: 12, fill: MAT, weight: 600, anchor: 'middle' }));
  }
  c.figures.forEach((f, i) => {
    out.push(paintFigure(f, c, first + i * (ROW + GAP), across));
  });
  for (const m of marks) {
    out.push(line(across(m), foot, across(m), foot + 5, INK));
    out.push(text(across(m), foot + 20, markText(m, c.inches), { size: 12, anchor: 'middle' }));
  }
  const every = [...c.steps.map((s) => s.step), ...(c.drawn ? [c.drawn.step] : [])],
    odd = [
      ...(c.drawn ? ['diamond: as drawn'] : []),
      ...(c.best ? ['ring: recommended'] : []),
      ...(every.some(({ status }) => status !== 'settled' && status !== 'refused') ? ['open square: not at rest'] : []),
      ...(every.some(({ status }) => status === 'refused') ? ['cross: could not be hung'] : []),
    ];
  odd.forEach((words, i) => {
    out.push(text(16, foot + 42 - 16 * i, words, { size: 12, fill: MUTED }));
  });
  out.push(text((LEFT + WIDTH - RIGHT) / 2, foot + 42, c.axis, { size: 13, fill: MUTED, anchor: 'middle' }));
  return out.join('');
}

function paintFigure(f: Figure, c: Chart, top: number, across: (v: number) => number): string {
  // What is not at rest has no figures.
  const at = (s: SweepStep): number | null => (s.status === 'settled' ? f.value(s) : null);
  const points = c.steps.map((s) => ({ ...s, y: at(s.step) })),
    own = c.drawn ? at(c.drawn.step) : null,
    known = [...points.map((p) => p.y), own].flatMap((y) => (y === null ? [] : [y])),
    // The limit belongs to the picture: without it nobody sees how much is left.
    high = Math.max(f.limit ?? 0, ...known),
    low = f.limit === undefined && f.whole !== true && known.length > 0 ? Math.min(...known) : 0,
    marks = marksFor(low > 0.5 * high ? low : 0, high === 0 ? 1 : high, f.inches),
    [y0, y1] = [marks[0]!, marks.at(-1)!],
    up = (v: number): number => top + ROW - ((v - y0) / (y1 - y0)) * ROW,
    end = WIDTH - RIGHT;
  const out = [text(16, top + 16, f.label, { size: 13, weight: 600 }), text(16, top + 34, f.unit, { size: 12, fill: MUTED })];
  for (const m of marks) out.push(line(LEFT, up(m), end, up(m), RULE), text(LEFT - 8, up(m) + 4, markText(m, f.inches === true), { size: 12, anchor: 'end' }));
  out.push(line(LEFT, top, LEFT, top + ROW, INK), line(LEFT, top + ROW, end, top + ROW, INK));
  if (f.limit !== undefined) {
    out.push(`<path d="M${LEFT} ${px(up(f.limit))}H${end}" stroke="${INK}" stroke-width="1.2" stroke-dasharray="7 4" fill="none"/>`);
    // Above its line, or below where the line is the top of the plot.
    const y = up(f.limit) + (up(f.limit) - top < 16 ? 15 : -5);
    out.push(text(end, y, `limit ${trimmed(f.limit, 1)} ${f.unit.split(' ')[0]}`, { size: 12, anchor: 'end' }));
  }
  const runs: string[] = [];
  points.forEach((p, i) => {
    if (p.y !== null) runs.push(`${i > 0 && points[i - 1]!.y !== null ? 'L' : 'M'}${px(across(p.x))} ${px(up(p.y))}`);
  });
  if (runs.length > 0) out.push(`<path d="${runs.join('')}" stroke="${INK}" stroke-width="1.6" fill="none"/>`);
  for (const p of points) {
    const x = across(p.x);
    const foot = top + ROW - 7;
    if (p.y !== null) out.push(`<circle cx="${px(x)}" cy="${px(up(p.y))}" r="3.6" fill="${INK}"/>`);
    else if (p.step.status === 'settled') continue;
    else if (p.step.status === 'refused') out.push(`<path d="M${px(x - 4)} ${px(foot - 4)}l8 8m0 -8l-8 8" stroke="${INK}" stroke-width="1.5" fill="none"/>`);
    else out.push(`<rect x="${px(x - 4)}" y="${px(foot - 4)}" width="8" height="8" fill="${PAPER}" stroke="${INK}" stroke-width="1.5"/>`);
  }
  if (own !== null && c.drawn) {
    // Ends at unlike distances are one hanging: its figure at each of them, joined.
    const [xs, y] = [c.drawn.at.map(across), up(own)];
    if (xs.length > 1) out.push(line(xs[0]!, y, xs.at(-1)!, y, MUTED));
    const fill = c.drawn.step.status === 'settled' ? MUTED : PAPER;
    for (const x of xs) out.push(`<path d="M${px(x)} ${px(y - 6)}l6 6l-6 6l-6 -6z" fill="${fill}" stroke="${MUTED}" stroke-width="1.5"/>`);
  }
  const best = c.best ? at(c.best.step) : null;
  for (const v of best === null ? [] : c.best!.at)
    out.push(`<ellipse cx="${px(across(v))}" cy="${px(up(best!))}" rx="9" ry="9" fill="none" stroke="${MAT}" stroke-width="2"/>`);
  return out.join('');
}
