/** A file of marked pictures: read, set beside one another, told in words. */
import type { Three } from '../../bag/types.ts';
import { libm } from '../../numerics/index.ts';
import { DEGREE } from '../../units/index.ts';
import { DIRECTIONS, type Direction, parseReadings, Reader, type Readings, readObject } from '../readings.ts';
import { type PhotoShot, photoShots } from './shots.ts';

/** Pictures of one direction taken together. */
export interface PhotoDirection {
  readonly direction: Direction;
  readonly shots: readonly PhotoShot[];
  /** Bending length, m: the mean, less and plus the larger of its noise and of the furthest picture's distance from it. */ readonly bendingLength: Three;
  /** Mean bending length by side up and end, m, in the order of the pictures. */ readonly ways: readonly { readonly way: string; readonly length: number }[];
  /** Largest over smallest of `ways`, less 1: what hysteresis, curl and the cloth's own unevenness leave between them. */ readonly between: number;
}

/** What a file of pictures comes to; `readings` where it also holds a weighed piece, from which `swatchMaterial` makes a material. */
export interface PhotoFile {
  readonly directions: readonly PhotoDirection[];
  readonly readings: Readings | null;
}

const mean = (list: readonly number[]): number => libm.exp(list.reduce((s, v) => s + libm.log(v), 0) / list.length);
const wayOf = (s: PhotoShot): string => `${s.side} up, ${s.end} end`;

/** Pictures of one direction taken together: geometric mean of their bending lengths; its 90 % interval from the pictures' own, or their spread if that is more. */
function photosTogether(direction: Direction, shots: readonly PhotoShot[]): PhotoDirection {
  const lengths = shots.map((s) => s.reading.bendingLength[1]);
  const c = mean(lengths);
  const noise = libm.norm(shots.map(({ reading: { bendingLength: b } }) => (b[2] - b[0]) / 2 / b[1])) / shots.length;
  const off = Math.max(noise, ...lengths.map((v) => Math.abs(v / c - 1)));
  const ways = [...new Set(shots.map(wayOf))].map((way) => ({
    way,
    length: mean(shots.filter((s) => wayOf(s) === way).map((s) => s.reading.bendingLength[1])),
  }));
  const means = ways.map((w) => w.length);
  return { direction, shots, bendingLength: [c * (1 - off), c, c * (1 + off)], ways, between: Math.max(...means) / Math.min(...means) - 1 };
}

/**
 * A file of pictures: {"photo": {"warp": [{"side", "end", "card" or "ruler", "table", "strip"}, ...], ...}}, with a file of readings' other keys where a
 * material is wanted. Throws BagError with every fault.
 */
export function parsePhotos(text: string): PhotoFile {
  const r = new Reader();
  const top = readObject(r, text, 'an object with "photo", the marked pictures by direction');
  const photo = r.entry('photo', top.photo, 'pictures by direction, such as {"warp": [{"card": [...], "table": [...], "strip": [...]}]}') ?? {};
  r.known('photo', photo, DIRECTIONS);
  const found = DIRECTIONS.filter((d) => photo[d] !== undefined);
  if (found.length === 0 && r.faults.faults.length === 0) r.faults.addText('photo', 'no picture', 'pictures of strips along the warp, the weft or the bias');
  // With a weighed piece it is a file of readings as well, whose own faults name the same places.
  if (top.piece !== undefined) {
    const readings = parseReadings(text);
    return { directions: found.map((d) => photosTogether(d, photoShots(r, d, `photo.${d}`, photo[d]))), readings };
  }
  const directions = found.map((d) => [d, photoShots(r, d, `photo.${d}`, photo[d])] as const);
  r.faults.stop();
  return { directions: directions.map(([d, shots]) => photosTogether(d, shots)), readings: null };
}

const mm = (v: number): string => `${Number((v * 1000).toPrecision(3))}`;
const degrees = (v: number): string => `${Number((v / DEGREE).toFixed(1))} deg`;

/** The pictures in words: one line each with what is left over, then each direction with its band. */
export function photoText(file: PhotoFile): string[] {
  const lines: string[] = [];
  for (const { direction, shots, bendingLength, ways, between } of file.directions) {
    const [low, c, high] = bendingLength;
    lines.push(
      `${direction}: bending length ${mm(c)} mm (${mm(low)} to ${mm(high)}), overhang at 41.5 degrees ${mm(2 * c)} mm, from ${shots.length} ${shots.length === 1 ? 'picture' : 'pictures'}`,
    );
    for (const shot of shots) {
      const { reading: q } = shot;
      const [least, best, most] = q.bendingLength;
      lines.push(
        `  ${wayOf(shot)}: ${mm(best)} mm (90 % interval ${mm(least)} to ${mm(most)}), D/w ${Number((q.rigidityOverWeight * 1e6).toPrecision(3))} cm3`,
        `    strip ${mm(q.length)} mm long, ${degrees(q.chordAngle)} from edge to tip, leaves the edge at ${degrees(q.clampAngle)}; points off the strip by up to ${mm(Math.max(...q.residuals.map(Math.abs)))} mm`,
        ...q.warnings.map((w) => `    note: ${w}`),
      );
    }
    if (ways.length > 1)
      lines.push(
        `  ${ways.map((w) => `${w.way} ${mm(w.length)}`).join('; ')}: ${Number((100 * between).toPrecision(2))} % between them, which the band holds (curl, friction of the yarns, uneven cloth)`,
      );
  }
  lines.push('The lens is taken to bend no lines: keep the strip away from the corners of the picture, and stand two arms away rather than close.');
  return lines;
}
