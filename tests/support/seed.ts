import fc from 'fast-check';

/** Property tests draw the same cases on every run; a failure repeats. */
fc.configureGlobal({ seed: 20260101, numRuns: 100 });
