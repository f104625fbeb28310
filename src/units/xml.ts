/** Text made fit for XML: marks escaped, control letters (which XML 1.0 cannot hold) dropped. */
export function escapeXml(text: string): string {
  const clean = [...text].filter((c) => c >= ' ' && c !== '\ufffe' && c !== '\uffff').join('');
  return clean.replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);
}
