/** Hands a file to the browser's downloads; nothing leaves this machine. */
export function download(name: string, type: string, content: string): void {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}

/** One row of CSV (RFC 4180). A cell that a spreadsheet would run as a formula is made plain text. */
export function csvRow(cells: (string | number)[]): string {
  return cells
    .map((cell) => {
      let text = String(cell);
      if (typeof cell === 'string' && /^[=+\-@\t\r]/.test(text)) text = `'${text}`;
      return /[",\n\r]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
    })
    .join(',');
}
