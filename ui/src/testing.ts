import { configure } from '@testing-library/svelte';
import { beforeEach } from 'vitest';

// A busy machine is slow, and slow is not wrong.
configure({ asyncUtilTimeout: 20_000 });
beforeEach(() => localStorage.clear());
