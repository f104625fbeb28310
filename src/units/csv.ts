/** Tables for a spreadsheet. */

/**
 * A cell of a CSV file (RFC 4180); what a spreadsheet would take for a formula is kept text. quoted: what a cell must not hold bare; a semicolon as well where the
 * file is read back with either separator.
 */
export function csvCell(text: string, quoted = /[",\n\r]/): string {
  const plain = /^[=+@\t\r]|^-(?![\d.])/.test(text) ? `'${text}` : text;
  return quoted.test(plain) ? `"${plain.replaceAll('"', '""')}"` : plain;
}
