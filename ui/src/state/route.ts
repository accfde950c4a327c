/** Where the person is: the list of jobs, one face of a job, or the page of components. */
export type Route =
  | { at: 'jobs' }
  | { at: 'new' }
  | { at: 'workshop' }
  | { at: 'components' }
  | { at: 'job'; id: string; face: Face }
  | { at: 'nowhere'; path: string };

/** The order of the work. */
export const groups = ['Understand', 'Choose', 'Set', 'Prove', 'Hand over'] as const;

/**
 * The faces of a job, in the order the work happens: a new one is one line here, and a file of that name in pages/.
 */
export const tabs = [
  { face: 'brief', name: 'Brief', group: 'Understand', file: 'Brief' },
  { face: 'car', name: 'Car', group: 'Understand', file: 'Car' },
  { face: 'parts', name: 'Parts', group: 'Understand', file: 'Parts' },
  { face: 'builds', name: 'Builds', group: 'Choose', file: 'Builds' },
  { face: 'road', name: 'Road', group: 'Choose', file: 'Road' },
  { face: 'corners', name: 'Corners', group: 'Choose', file: 'Corners' },
  { face: 'struts', name: 'Struts', group: 'Choose', file: 'Struts' },
  { face: 'dampers', name: 'Dampers', group: 'Choose', file: 'Dampers' },
  { face: 'find', name: 'Find', group: 'Choose', file: 'Find' },
  { face: 'order', name: 'Order', group: 'Choose', file: 'Order' },
  { face: 'scales', name: 'Scales', group: 'Set', file: 'Scales' },
  { face: 'roadtest', name: 'Road test', group: 'Prove', file: 'RoadTest' },
  { face: 'support', name: 'Support', group: 'Prove', file: 'Support' },
  { face: 'handover', name: 'Handover', group: 'Hand over', file: 'Handover' },
  { face: 'history', name: 'History', group: 'Hand over', file: 'History' },
] as const satisfies readonly { face: string; name: string; group: (typeof groups)[number]; file: string }[];
export type Face = (typeof tabs)[number]['face'];

export function read(path: string): Route {
  const parts = path.split('/').filter(Boolean).map(safely);
  if (parts.length === 0 || (parts.length === 1 && parts[0] === 'jobs')) return { at: 'jobs' };
  if (parts.length === 1 && parts[0] === 'new') return { at: 'new' };
  if (parts.length === 1 && parts[0] === 'workshop') return { at: 'workshop' };
  if (parts.length === 1 && parts[0] === 'components') return { at: 'components' };
  if (parts[0] === 'jobs' && parts[1] !== undefined && parts.length <= 3) {
    const face = parts[2] ?? 'builds';
    if (tabs.some((tab) => tab.face === face)) return { at: 'job', id: parts[1], face: face as Face };
  }
  return { at: 'nowhere', path };
}

export function write(route: Route): string {
  switch (route.at) {
    case 'jobs':
      return '/jobs';
    case 'new':
      return '/new';
    case 'workshop':
      return '/workshop';
    case 'components':
      return '/components';
    case 'job':
      return `/jobs/${encodeURIComponent(route.id)}/${route.face}`;
    case 'nowhere':
      return route.path;
  }
}

function safely(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
