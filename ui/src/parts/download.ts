/** Hands a file to the browser's downloads; nothing leaves this machine. */
export function download(name: string, type: string, content: string | Uint8Array<ArrayBuffer>): void {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
}

/** A file that the server gave as text of base64. */
export function downloadFile(file: { name: string; media: string; data: string }): void {
  download(
    file.name,
    file.media,
    Uint8Array.from(atob(file.data), (one) => one.charCodeAt(0)),
  );
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
