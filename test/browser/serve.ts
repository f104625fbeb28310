import { createReadStream, statSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize, sep } from 'node:path';

export interface Served {
  /** Address of the folder, ending in a slash. */
  readonly url: string;
  readonly close: () => Promise<void>;
}

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json',
  '.map': 'application/json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.wasm': 'application/wasm',
  '.woff2': 'font/woff2',
};

/**
 * Serves a folder on a free loopback port, below a folder name rather than at the root: a page that only works
 * at the root of a host breaks here as it would in most places people put it.
 */
export async function serveFolder(folder: string, below = '/some/where/'): Promise<Served> {
  const server = createServer((request, response) => {
    const path = decodeURIComponent((request.url ?? '/').replace(/[?#].*$/, ''));
    const file = path.startsWith(below) ? normalize(join(folder, path === below ? 'index.html' : path.slice(below.length))) : '';
    const inside = file.startsWith(normalize(folder) + sep);
    if (!inside || !statSync(file, { throwIfNoEntry: false })?.isFile()) {
      response.writeHead(404, { 'content-type': 'text/plain' }).end('not here');
      return;
    }
    response.writeHead(200, { 'content-type': types[extname(file)] ?? 'application/octet-stream', 'cache-control': 'no-store' });
    createReadStream(file).pipe(response);
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(0, '127.0.0.1', resolve);
  });
  const { port } = server.address() as AddressInfo;
  return {
    url: `http://127.0.0.1:${port}${below}`,
    close: () =>
      new Promise((resolve) => {
        // A browser that keeps its connections alive would hold the process open for minutes.
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}
