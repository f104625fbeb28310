/** Words on lines and on one another, found by geometry. */
import { insidePolygon, meetingPoint } from '../../src/numerics/index.ts';
import { textWidth } from '../../src/pattern/sheet/font.ts';
import type { Sheet, SheetText, Spot } from '../../src/pattern/sheet/types.ts';

/** Letters from 0.76 em above to 0.22 em below the baseline (Noto Sans: capital height 0.714, descent of "g" 0.24 of which ink 0.22). */
export const rect = (t: SheetText): Spot[] => {
  const w = textWidth(t.text, t.size);
  return [
    [t.x, t.y - 0.76 * t.size],
    [t.x + w, t.y - 0.76 * t.size],
    [t.x + w, t.y + 0.22 * t.size],
    [t.x, t.y + 0.22 * t.size],
  ];
};
const sidesOf = (r: readonly Spot[]): [Spot, Spot][] => r.map((p, i) => [p, r[(i + 1) % r.length]!]);

/** Words that a line runs through, and pairs of words on each other. */
export function clashes(sheet: Pick<Sheet, 'lines' | 'texts'>): string[] {
  const out: string[] = [];
  const words = sheet.texts.map((t) => ({ t, r: rect(t) }));
  words.forEach(({ t, r }, i) => {
    for (const line of sheet.lines) {
      const points = line.closed ? [...line.points, line.points[0]!] : line.points;
      for (let k = 0; k + 1 < points.length; k++) {
        const [p, q] = [points[k]!, points[k + 1]!];
        if (insidePolygon(p, r) || sidesOf(r).some(([a, b]) => meetingPoint(p, q, a, b, 0) !== null)) {
          out.push(`"${t.text}" on ${line.what}`);
          break;
        }
      }
    }
    for (const { t: u, r: s } of words.slice(i + 1))
      if (r[0]![0] < s[1]![0] && s[0]![0] < r[1]![0] && r[0]![1] < s[2]![1] && s[0]![1] < r[2]![1]) out.push(`"${t.text}" on "${u.text}"`);
  });
  return out;
}
