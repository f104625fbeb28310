import { expect, test } from 'vitest';
import { fitting, frameOf, nearDepth, START_CAMERA, viewMatrix } from '../../src/app/view/projection.ts';

/** A box of 200 x 100 x 300 mm, and lying on its front before itself: corners. */
const drafted = [-0.1, -0.05, 0, 0.1, 0.05, 0.3];
const fallen = [-0.1, -0.35, 0, 0.1, -0.05, 0.1];

test('a bag that fell toward the viewer is in its bay, and what is drafted still stands on the tape’s zero', () => {
  const upright = frameOf(drafted),
    frame = frameOf(drafted, [fallen]);
  const [width, height, floor, headroom] = [320, 320, 40, 60];
  const { scale } = fitting([upright, frame], width, height - floor - headroom, START_CAMERA);
  const near = nearDepth(upright, START_CAMERA),
    before = nearDepth(frame, START_CAMERA) - near,
    floorPx = height - floor - Math.round(before * START_CAMERA.lift * scale);
  const m = viewMatrix(START_CAMERA, frame, { width, height, floor: floorPx, scale, near });
  const at = ([x, y, z]: readonly [number, number, number]): readonly [number, number] => [
    (0.5 + 0.5 * (m[0]! * x + m[4]! * y + m[8]! * z + m[12]!)) * width,
    (0.5 - 0.5 * (m[1]! * x + m[5]! * y + m[9]! * z + m[13]!)) * height,
  ];
  expect(at([0, -0.05, 0])[1]).toBeCloseTo(floorPx, 3);
  for (const x of [-0.1, 0.1])
    for (const y of [-0.35, 0.05])
      for (const z of [0, 0.3]) {
        const [across, down] = at([x, y, z]);
        expect(across).toBeGreaterThan(0);
        expect(across).toBeLessThan(width);
        expect(down).toBeGreaterThan(0);
        expect(down).toBeLessThan(height);
      }
});
