/** Points of a picture with how far into it each lies: the nearest thing is what is seen. */

export interface Point3 {
  /** Across and down the picture, points. */ readonly x: number;
  readonly y: number;
  /** Into the picture, m. */ readonly depth: number;
}

/** Colour as red, green, blue, 0..255. */
export type Colour = readonly [number, number, number];

export class ZBuffer {
  readonly depth: Float64Array;
  readonly rgba: Uint8Array;

  constructor(
    readonly width: number,
    readonly height: number,
  ) {
    this.depth = new Float64Array(width * height).fill(Number.POSITIVE_INFINITY);
    this.rgba = new Uint8Array(4 * width * height);
  }

  /**
   * Fills a triangle where nothing nearer lies. colour: of each corner, and lit in between by `light`, told the weights of the corners at a point: 0 is the first colour,
   * 1 the second. A point belongs to the triangle where its middle lies inside or on its border, so that neighbours leave no gap.
   */
  triangle(a: Point3, b: Point3, c: Point3, [dark, bright]: readonly [Colour, Colour], light: (wa: number, wb: number, wc: number) => number): void {
    const area = (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
    if (!(Math.abs(area) > 1e-12)) return;
    const [x0, x1] = [Math.max(0, Math.floor(Math.min(a.x, b.x, c.x) - 0.5)), Math.min(this.width - 1, Math.ceil(Math.max(a.x, b.x, c.x) - 0.5))];
    const [y0, y1] = [Math.max(0, Math.floor(Math.min(a.y, b.y, c.y) - 0.5)), Math.min(this.height - 1, Math.ceil(Math.max(a.y, b.y, c.y) - 0.5))];
    const [r0, g0, b0] = dark;
    const [r1, g1, b1] = bright;
    for (let y = y0; y <= y1; y++) {
      const py = y + 0.5;
      for (let x = x0; x <= x1; x++) {
        const px = x + 0.5;
        const wa = ((b.x - px) * (c.y - py) - (b.y - py) * (c.x - px)) / area;
        const wb = ((c.x - px) * (a.y - py) - (c.y - py) * (a.x - px)) / area;
        const wc = 1 - wa - wb;
        if (wa < -1e-9 || wb < -1e-9 || wc < -1e-9) continue;
        const depth = wa * a.depth + wb * b.depth + wc * c.depth;
        const at = y * this.width + x;
        if (depth >= this.depth[at]!) continue;
        this.depth[at] = depth;
        const t = light(wa, wb, wc);
        this.rgba[4 * at] = Math.round(r0 + (r1 - r0) * t);
        this.rgba[4 * at + 1] = Math.round(g0 + (g1 - g0) * t);
        this.rgba[4 * at + 2] = Math.round(b0 + (b1 - b0) * t);
        this.rgba[4 * at + 3] = 255;
      }
    }
  }

  /** Is a place seen, or does something lie nearer by more than `slack`, m? Off the picture it is. */
  seen(p: Point3, slack: number): boolean {
    const [x, y] = [Math.floor(p.x), Math.floor(p.y)];
    if (x < 0 || y < 0 || x >= this.width || y >= this.height) return true;
    return p.depth <= this.depth[y * this.width + x]! + slack;
  }

  /** Half as wide and as high: each point the mean of four, so that borders are soft. */
  halved(): { readonly width: number; readonly height: number; readonly rgba: Uint8Array } {
    const [width, height] = [this.width >> 1, this.height >> 1];
    const rgba = new Uint8Array(4 * width * height);
    for (let y = 0; y < height; y++)
      for (let x = 0; x < width; x++) {
        let [r, g, b, many] = [0, 0, 0, 0];
        for (let k = 0; k < 4; k++) {
          const at = 4 * ((2 * y + (k >> 1)) * this.width + 2 * x + (k & 1));
          if (this.rgba[at + 3] === 0) continue;
          r += this.rgba[at]!;
          g += this.rgba[at + 1]!;
          b += this.rgba[at + 2]!;
          many++;
        }
        if (many === 0) continue;
        const to = 4 * (y * width + x);
        rgba[to] = Math.round(r / many);
        rgba[to + 1] = Math.round(g / many);
        rgba[to + 2] = Math.round(b / many);
        rgba[to + 3] = Math.round((255 * many) / 4);
      }
    return { width, height, rgba };
  }
}
