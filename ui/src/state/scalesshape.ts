// What the page of the scales and the server say to each other: names for the types of the server's own description.

import type { components } from '../api/schema.gen';

type S = components['schemas'];

export type Grade = S['Scales']['verdict'];
export type Tick = '' | 'yes' | 'no';
export type Reading = S['ReadingTyped'];
export type RoundBody = S['RoundTyped'];
export type Wishes = S['ScalesWishes'];
export type Settings = S['ScalesSettings'];
export type Scales = S['Scales'];
export type Check = S['ScalesCheck'];
export type ScalesRound = S['ScalesRound'];
export type KeepRound = S['ScalesRoundRequest'];
export type ScalesRead = S['ScalesRead'];

export type Lift = S['ScalesLift'];
export type LiftRequest = S['ScalesLiftRequest'];

/** What the page of the scales asks of a server. */
export interface ScalesServer {
  scales(id: string, settings: Settings, draft?: RoundBody, signal?: AbortSignal): Promise<Scales>;
  keepRound(id: string, round: KeepRound): Promise<Scales>;
  withdrawRound(id: string, round: string, why: string, who: string, settings: Settings): Promise<Scales>;
  lift(id: string, request: LiftRequest): Promise<Lift>;
  readScales(id: string, text: string): Promise<ScalesRead>;
  /** What a page showed last of a job, kept on this machine for when the network is away; null where nothing is. */
  lastShown?<T>(what: 'view' | 'scales' | 'sheet', id: string): Promise<T | null>;
}
