import fc from 'fast-check'

// The laws are tried on the same random cases in every run of the gate, so that what passes once passes again;
// `TEST_SEED` gives other ones (TEST_SEED=$RANDOM npm test), and what fails on them is a fault.
fc.configureGlobal({ seed: Number(process.env.TEST_SEED ?? 20_261_128) })
