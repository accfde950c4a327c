import type { Measuring, View } from '../api/contract';
import { faceOf } from './measuring';
import { loud } from './refined';
import type { Face } from './route';

/** How much is still to be looked at or done on a page of a job. */
export interface Open {
  many: number;
  says: string;
}

/** What is open on each page: faults and the readings to take next where they are typed, findings at the builds. */
export function openIn(view: View, measuring: Measuring | null): Partial<Record<Face, Open>> {
  const open: Partial<Record<Face, Open>> = {};
  const add = (face: Face, many: number, one: string, more: string) => {
    if (many === 0) return;
    const before = open[face];
    const says = `${many} ${many === 1 ? one : more}`;
    open[face] = { many: (before?.many ?? 0) + many, says: before ? `${before.says}, ${says}` : says };
  };
  const by = (paths: string[], one: string, more: string) => {
    const faces = paths.map((path) => faceOf(measuring, path));
    for (const face of new Set(faces)) add(face, faces.filter((other) => other === face).length, one, more);
  };
  const wrong = view.faults.filter((one) => one.kind === 'refuse' && one.path).map((one) => one.path);
  by(wrong, 'fault to mend', 'faults to mend');
  by(
    view.measureNext.map((one) => one.path).filter((path) => path && !wrong.includes(path)),
    'reading to take next',
    'readings to take next',
  );
  add('builds', view.rows.filter(loud).length, 'finding over, close or unknown', 'findings over, close or unknown');
  add('handover', view.unchecked, 'final check left', 'final checks left');
  return open;
}
