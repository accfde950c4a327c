/** Writes a piece of a job on one line, in braces: plain words as they are, everything else quoted. */
export function piece(keys: Record<string, string>): string {
  const plain = /^[\p{L}\p{N}][\p{L}\p{N} ./%-]*$/u;
  const text = (value: string) =>
    plain.test(value) && value.trim() === value && !/^(null|true|false|yes|no|on|off|[\d.]+)$/iu.test(value)
      ? value
      : JSON.stringify(value);
  return `{${Object.entries(keys)
    .filter(([, value]) => value.trim() !== '')
    .map(([key, value]) => `${key}: ${text(value)}`)
    .join(', ')}}`;
}

/** An id for what is newly named, unlike those that stand: "Four aboard" is four-aboard, the next one four-aboard-2. */
export function idOf(name: string, taken: string[]): string {
  const slug =
    name
      .normalize('NFKD')
      .replace(/\p{M}/gu, '')
      .toLowerCase()
      .replace(/[^a-z0-9]+/gu, '-')
      .replace(/^-+|-+$/gu, '')
      .replace(/^(?=\d)/u, 'n-') || 'new';
  let id = slug;
  for (let k = 2; taken.includes(id); k++) id = `${slug}-${k}`;
  return id;
}
