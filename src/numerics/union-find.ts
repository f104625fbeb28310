/**
 * Sets that grow together by pairs: numbers 0..size-1, each alone at first. The lowest number of a set is its root.
 * A pair may also be joined turned over; then every member knows whether it runs with its root or against it.
 * Source: Galler and Fischer 1964; path halving, Tarjan and van Leeuwen 1984 (from memory).
 */
export class UnionFind {
  private readonly parent: number[];
  /** true: turned over against its parent. */ private readonly odd: boolean[];

  constructor(size = 0) {
    this.parent = Array.from({ length: size }, (_, i) => i);
    this.odd = new Array<boolean>(size).fill(false);
  }

  /** A new number, alone. */
  add(): number {
    this.odd.push(false);
    return this.parent.push(this.parent.length) - 1;
  }

  /** The lowest number of i's set. */
  find(i: number): number {
    const { parent, odd } = this;
    let at = i;
    while (parent[at] !== at) {
      const up = parent[at]!;
      odd[at] = odd[at] !== odd[up];
      at = parent[at] = parent[up]!;
    }
    return at;
  }

  /** true when i runs against its root. */
  turned(i: number): boolean {
    let turned = false;
    for (let at = i; this.parent[at] !== at; at = this.parent[at]!) turned = turned !== this.odd[at];
    return turned;
  }

  /** Joins the sets of a and b, b turned over against a or not. false when they are in one set already, the other way round. */
  join(a: number, b: number, turned = false): boolean {
    const [ra, rb] = [this.find(a), this.find(b)];
    const apart = (this.turned(a) !== this.turned(b)) !== turned;
    if (ra === rb) return !apart;
    const [low, high] = ra < rb ? [ra, rb] : [rb, ra];
    this.parent[high] = low;
    this.odd[high] = apart;
    return true;
  }
}
