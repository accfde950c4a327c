/** What of a fault is shown. */
interface Shown {
  line: number;
  path: string;
  got: string;
  want: string;
}

/** A fault of a job as a sentence. Its path is for programs: shown is the label of the field there, if it has one. */
export function faultText(fault: Shown, fields: Record<string, { label: string }> = {}): string {
  const label = fields[fault.path]?.label ?? '';
  const line = fault.line > 0 ? `line ${fault.line}` : '';
  const where = [label, line].filter(Boolean).join(', ');
  const says = `${fault.got ? `“${fault.got}”; ` : ''}${fault.want}`.replace(/\.?$/, '.');
  return where ? `${where}: ${says}` : says;
}
