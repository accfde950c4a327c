import type { SweepFile } from '../../api/contract';

/** Files as the server takes them; what is too much is said before it is sent. */
export const mostBytes = 48 * 1024 * 1024;

export async function asSent(files: Iterable<File>): Promise<SweepFile[]> {
  const list = [...files];
  const total = list.reduce((sum, one) => sum + one.size, 0);
  if (total > mostBytes)
    throw new Error(
      'These files are together larger than 48 MB: send one damper at a time, or export fewer readings a turn; 1,000 are enough.',
    );
  return Promise.all(list.map(async (one) => ({ name: one.name, data: await base64(one) })));
}

function base64(file: File): Promise<string> {
  return new Promise((yes, no) => {
    const reader = new FileReader();
    reader.onload = () => yes(String(reader.result).replace(/^[^,]*,/u, ''));
    reader.onerror = () => no(new Error(`${file.name} cannot be read: choose it again.`));
    reader.readAsDataURL(file);
  });
}
