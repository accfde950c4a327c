/** What of a fault is shown. */
interface Shown {
  line: number;
  path: string;
  got: string;
  want: string;
}

/** A fault of a job as a sentence: the field by its label, or by the last words of its path. */
export function faultText(fault: Shown, fields: Record<string, { label: string }> = {}): string {
  const name = fields[fault.path]?.label ?? called(fault.path);
  const line = fault.line > 0 ? `line ${fault.line}` : '';
  const where = name && line ? `${name} (${line})` : name || line;
  const says = fault.got ? `${where || 'The job'} ${fault.got}` : where;
  return sentenceOf([says, fault.want].filter(Boolean).join(fault.got ? '; ' : ': '));
}

/** The same at the field itself, which needs no name. */
export function faultAtField(fault: Pick<Shown, 'got' | 'want'>): string {
  return sentenceOf([fault.got.replace(/^is (?!missing)/u, ''), fault.want].filter(Boolean).join('; '));
}

function sentenceOf(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1).replace(/\.?$/u, '.');
}

/** The last words of a path, without the ids that a job gives its parts, builds and loads. */
function called(path: string): string {
  const words = path.replace(/^(builds|loads|parts\.[^.]+)\.[^.]+\.(?=.)/u, '').split('.');
  return words.slice(-2).join(' ').replaceAll('_', ' ');
}
