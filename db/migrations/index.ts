import studio from './0001-studio.sql?raw'
import clients from './0002-clients.sql?raw'
import rigs from './0003-rigs.sql?raw'
import jobs from './0004-jobs.sql?raw'
import takes from './0005-takes.sql?raw'
import money from './0006-money.sql?raw'

/** Numbered steps, forward only. A shipped step is frozen: a change to the schema is a new file at the end. */
export const migrations: readonly string[] = [studio, clients, rigs, jobs, takes, money]
