/** Where the person is: the list of jobs, one face of a job, or the page of components. */
export type Route =
  | { at: 'jobs' }
  | { at: 'new' }
  | { at: 'workshop' }
  | { at: 'components' }
  | { at: 'job'; id: string; face: Face }
  | { at: 'nowhere'; path: string };

export const faces = [
  'brief',
  'car',
  'parts',
  'builds',
  'road',
  'corners',
  'struts',
  'dampers',
  'order',
  'scales',
  'handover',
  'support',
  'history',
] as const;
export type Face = (typeof faces)[number];

/** Names in the tabs, in the order the work happens. */
export const tabs: { face: Face; name: string }[] = [
  { face: 'brief', name: 'Brief' },
  { face: 'car', name: 'Car' },
  { face: 'parts', name: 'Parts' },
  { face: 'builds', name: 'Builds' },
  { face: 'road', name: 'Road' },
  { face: 'corners', name: 'Corners' },
  { face: 'struts', name: 'Struts' },
  { face: 'dampers', name: 'Dampers' },
  { face: 'order', name: 'Order' },
  { face: 'scales', name: 'Scales' },
  { face: 'handover', name: 'Handover' },
  { face: 'support', name: 'Support' },
  { face: 'history', name: 'History' },
];

export function read(path: string): Route {
  const parts = path.split('/').filter(Boolean).map(safely);
  if (parts.length === 0 || (parts.length === 1 && parts[0] === 'jobs')) return { at: 'jobs' };
  if (parts.length === 1 && parts[0] === 'new') return { at: 'new' };
  if (parts.length === 1 && parts[0] === 'workshop') return { at: 'workshop' };
  if (parts.length === 1 && parts[0] === 'components') return { at: 'components' };
  if (parts[0] === 'jobs' && parts[1] !== undefined && parts.length <= 3) {
    const face = parts[2] ?? 'builds';
    if ((faces as readonly string[]).includes(face)) return { at: 'job', id: parts[1], face: face as Face };
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
