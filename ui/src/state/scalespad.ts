// The number pad's part of the work: what a key does to what stands in a field, the order in which fields are walked, and
// the unit that goes with a bare number. Nothing here rounds or converts.

/** Corner order everywhere: front left, front right, rear left, rear right. */
export const cornerNames = ['Front left', 'Front right', 'Rear left', 'Rear right'] as const;

/** Where a figure is typed: a row of four (loads, heights, turned, again.0.loads, …) and the corner. */
export interface Place {
  row: string;
  corner: number;
}

export type Kind = 'load' | 'height' | 'turn' | 'pressure';

export function kindOf(row: string): Kind {
  if (row === 'turned') return 'turn';
  if (row === 'pressures') return 'pressure';
  if (row === 'padErrors' || row.endsWith('loads')) return 'load';
  return 'height';
}

/** The next field: along the corners, then from loads to the heights of the same reading; null behind the last. */
export function next(at: Place): Place | null {
  if (at.corner < 3) return { row: at.row, corner: at.corner + 1 };
  if (at.row.endsWith('loads')) return { row: at.row.replace(/loads$/, 'heights'), corner: 0 };
  return null;
}

export function before(at: Place): Place | null {
  if (at.corner > 0) return { row: at.row, corner: at.corner - 1 };
  if (at.row.endsWith('heights')) return { row: at.row.replace(/heights$/, 'loads'), corner: 3 };
  return null;
}

/** What stands in the field after a key of the pad. Whatever was typed otherwise stays as it is. */
export function press(text: string, key: string): string {
  switch (key) {
    case 'back': {
      // A fraction goes as it came, in one stroke.
      const part = / ?\d+\/\d+$/.exec(text);
      return part ? text.slice(0, part.index) : text.slice(0, -1);
    }
    case 'clear':
      return '';
    case 'sign':
      return /^[-−]/.test(text) ? text.slice(1) : `−${text}`;
    case '.':
      return /\.\d*$/.test(text) ? text : `${text}.`;
  }
  if (key.includes('/')) {
    const bare = text.replace(/ ?\d+\/\d+$/, '');
    return bare === '' || /^[-−]$/.test(bare) ? bare + key : `${bare} ${key}`;
  }
  return text + key;
}

/** A bare number gets the unit that stood beside its field; what has a unit of its own is left alone. */
export function withUnit(text: string, unit: string): string {
  const bare = text.trim();
  if (bare === '' || unit === '' || /[^\d\s.,/+−-]/u.test(bare)) return bare;
  return `${bare} ${unit}`;
}
