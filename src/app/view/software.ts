/** A software rasteriser has no anti-aliasing to give away: it is drawn rough while it moves and fine once it rests. Asked in a worker (probe.ts). */
export function isSoftware(): Promise<boolean> {
  return new Promise((resolve) => {
    const worker = new Worker(new URL('./probe.ts', import.meta.url), { type: 'module' });
    const answer = (name: string | null): void => {
      worker.terminate();
      resolve(/swiftshader|llvmpipe|software/i.test(name ?? ''));
    };
    worker.onmessage = (event: MessageEvent<string | null>) => answer(event.data);
    worker.onerror = () => answer(null);
  });
}
