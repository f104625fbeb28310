/** A bag in the part of an address that no browser sends: everything after #. */
const KEY = '#bag=';
/** Longest link made: mail programs break longer ones. */
const LONGEST = 16_000;

async function through(bytes: Uint8Array<ArrayBuffer>, stream: CompressionStream | DecompressionStream): Promise<Uint8Array<ArrayBuffer>> {
  const writer = stream.writable.getWriter();
  // Both ends hear of a failure; the one that is read tells it.
  void writer.write(bytes).catch(() => {});
  void writer.close().catch(() => {});
  return new Uint8Array(await new Response(stream.readable).arrayBuffer());
}

/** Link to this page with a bag in it; null where it would be too long. bag: a bag file's text. */
export async function linkOf(bag: string, page: string): Promise<string | null> {
  const small = JSON.stringify(JSON.parse(bag));
  const packed = await through(new TextEncoder().encode(small), new CompressionStream('deflate-raw'));
  let text = '';
  for (const byte of packed) text += String.fromCharCode(byte);
  const link = `${page}${KEY}${btoa(text).replaceAll('+', '-').replaceAll('/', '_').replace(/=+$/, '')}`;
  return link.length > LONGEST ? null : link;
}

/** The bag in such an address, as a bag file's text. Errors: a link that was cut short or changed. */
export async function bagInLink(hash: string): Promise<string> {
  const packed = Uint8Array.from(atob(hash.slice(KEY.length).replaceAll('-', '+').replaceAll('_', '/')), (c) => c.charCodeAt(0));
  const text = new TextDecoder('utf-8', { fatal: true }).decode(await through(packed, new DecompressionStream('deflate-raw')));
  return JSON.stringify(JSON.parse(text), null, 2);
}
