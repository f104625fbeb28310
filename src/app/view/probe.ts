/**
 * Asks for WebGL away from the page: the first asking starts the browser's drawing process and waits for it (333 ms, measured), whoever asks.
 * Says the drawer's name, '' when it is not told, null when a worker has no WebGL here.
 */
function drawer(): string | null {
  if (typeof OffscreenCanvas === 'undefined') return null;
  const gl = new OffscreenCanvas(1, 1).getContext('webgl2');
  if (!gl) return null;
  const info = gl.getExtension('WEBGL_debug_renderer_info');
  const name = info ? String(gl.getParameter(info.UNMASKED_RENDERER_WEBGL)) : '';
  gl.getExtension('WEBGL_lose_context')?.loseContext();
  return name;
}

self.postMessage(drawer());
