import { openHouse } from '../../main/doors/openHouse.ts'

// A program of its own for the test of killed programs: opens a studio as a door does, and counts until it is killed.

openHouse(process.argv[2] ?? '', import.meta.dirname)
process.stdout.write('open\n')
setInterval(() => {}, 1000)
