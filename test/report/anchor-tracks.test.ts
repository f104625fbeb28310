/** Where on a picture anchors can be moved to, against where another bag has them. */
import { expect, it } from 'vitest';
import { newBag, strapFamily, withAnchorsAt } from '../../src/bag/index.ts';
import { parseBag } from '../../src/bag/parse.ts';
import { anchorTracks, startPicture } from '../../src/report/index.ts';
import { prepare } from '../../src/run/index.ts';

it('on the drafted boxed tote the track at 100 mm is where a tote with anchors at 100 mm has them, within 0.2 px of a picture 168 px wide', () => {
  const bag = parseBag(newBag('boxed-tote'));
  const tracksOf = (of: typeof bag) => {
    const { mesh, drafted } = prepare(of, { stance: of.stances.find((s) => s.kind === 'hung')!.name, edgeLength: 0.022 });
    const { posed, frame } = startPicture(mesh, drafted, 168, 132);
    return anchorTracks(of, 'handle', mesh, posed, frame);
  };
  const at = (track: ReturnType<typeof tracksOf>[number], d: number): readonly [number, number] => {
    const i = track.line.findIndex(([to]) => to >= d);
    const [a, b] = [track.line[i - 1]!, track.line[i]!];
    const t = (d - a[0]) / (b[0] - a[0]);
    return [a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
  };
  const moved = withAnchorsAt(bag, 'handle', 0.1).bag!;
  const [here, there] = [tracksOf(bag), tracksOf(moved)];
  expect(here.length).toBe(2);
  expect(here.map((t) => t.side)).toEqual(['left', 'right']);
  for (const [i, track] of there.entries()) {
    expect(track.distance).toBeCloseTo(0.1, 6);
    const [p, q] = [at(here[i]!, 0.1), at(track, track.distance)];
    const off = Math.hypot(p[0] - q[0], p[1] - q[1]);
    expect(off, `${p} against ${q} px; the two meshes have their points elsewhere`).toBeLessThan(0.2);
  }
  // On the front itself (2 in lie round its corners) both ends as far in are mirror images about its middle, which the cabinet view leaves in place.
  const middles = here[0]!.line.flatMap(([d, x], k) => (d > 0.06 ? [(x + here[1]!.line[k]![1]) / 2] : []));
  for (const m of middles) expect(Math.abs(m - middles[0]!), `${m} against ${middles[0]} px`).toBeLessThan(0.2);
  expect(strapFamily(bag, 'handle').length).toBe(2);
});
