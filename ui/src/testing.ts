import { beforeEach } from 'vitest';

beforeEach(() => localStorage.clear());
