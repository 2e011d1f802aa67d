/** Mishaps with cement and light. Read as `table.ts` says. */

export const CEMENT = `
# cement-late: Cement past its working time, the first unit seated but not tacked | seating
to end seat {1}
at 0:10 cement-late 1
> heading Wipe out {1}
> bar     {1} wiped out, dry
> tooth   {1}
> first   Take off what still moves, wipe its cement out
> watched Resin waiting|Adhesive waiting
> answers -
> then    Primer on {1}

# cement-gelled: The bead sets while the first unit is loaded | seating
to end load {1}
at 0:10 cement-gelled 1
> heading Wipe out {1}
> bar     {1} wiped out, dry
> tooth   {1}
> first   Stop loading. Tack what is seated and still true
> answers -

# bead-firm: The bead is firm, the first unit is seated | veneers, etch-and-rinse; universal
to end seat {1}
at 0:06 firm 1
> bar     Excess brushed, {1}
> tooth   {1}
> watched Portion 1
> answers The bead of portion 1 is firm. | Excess brushed, {1} | Start portion 1 again
> tap     {1} will not seat

# bead-firm-loaded: The bead is firm, nothing is seated yet | veneers, etch-and-rinse; universal
to end load {1}
at 0:06 firm 1
> heading Start again portion 1
> bar     Start portion 1 again
> says    Stop loading. Tack what is seated and still true
> answers The bead of portion 1 is firm. | Start portion 1 again

# bead-soft: The bead is probed and still soft | veneers, etch-and-rinse
to end load {1}
at 0:06 soft 1
> bar     {1} seated
> watched Portion 1
> answers -
> tap     {1} dropped | {1} will not seat

# cement-over: The working time runs out under a seated unit | veneers, etch-and-rinse
to end seat {1}
at 7:10 look
> heading Start again portion 1
> bar     Start portion 1 again
> says    Take off what still moves
> watched Portion 1 +0:10
> answers The working time of portion 1 is over. | Start portion 1 again | Excess brushed, {1}

# cement-closing: Half a minute of working time is left, one unit still on the tray | veneers, etch-and-rinse
to end tack {1}
at 6:15 look
> watched Floss the contact 12/11
> watched Portion 1 0:32
> never   Warm-up
> tap     Blood {1}

# light-failed-tack: The light goes out during the first tack | seating
to start tack {1}
at 0:01 light-failed
> heading Tack {1}
> bar     Light on {1}, facial
> tooth   {1}
> clock   -
> first   take the second light
> watched Portion 1
> answers The light failed. | Light on {1}, facial

# light-failed: The light goes out during the first full exposure | seating
to start expose {1}
at 0:05 light-failed
> heading Expose {2}
> bar     Light on {2}, …
> tooth   {2}
> clock   -
> first   take the second light and go on
> answers The light failed. | Light on {2}

# light-weak: The light was weak, both units are tacked | seating
to end tack {2}
at 0:05 light-weak
> heading Lift excess {2}
> bar     Excess lifted, {2}
> tooth   {2}
> first   -
> watched Floss the contact
> care    Blue light: shield, eyes away

# light-weak-after: The light was weak, the first unit is exposed already | veneers, etch-and-rinse; universal
to end expose {1}
at 0:05 light-weak
> heading Expose {2}
> bar     Light on {2}, facial
> tooth   {2}
> first   Expose every surface again with a light that reads right
> tap     Light failed

# rinse-after-seat: The patient must rinse, the first unit is seated | seating
to end seat {1}
at 0:05 rinse-after-seat {1}
> heading Brush excess {1}
> bar     Excess brushed, {1}
> tooth   {1}
> first   Brush and tack it first if it is seated and true
> watched Portion 1
> care    Nobody bites on a loose unit|Loose unit: throat covered

# contact-closed: A contact was not flossed in time | seating
to end gel-lifted {2}
at 2:40 contact-closed
> heading Floss …
> bar     Flossed, …
> over    /
> first   Try the floss once, sideways, a finger on the unit; never force it
> watched Floss the contact
> tap     Too late

# power-cut-light: The tablet loses power during an exposure and is back after 40 s | veneers, etch-and-rinse
to start expose {1}
at 0:05 away 40
> heading Expose 11
> bar     Light off 11, facial
> tooth   11

# power-cut-cement: The tablet loses power with a loaded unit in hand, back after 90 s | veneers, etch-and-rinse
to end load {1}
at 0:05 away 90
> heading Seat 11
> bar     11 seated
> tooth   11
> watched Portion 1

# reload-etch: The app is closed during the first etch and is back after 20 s | veneers, etch-and-rinse
to start etch {1}
at 0:05 away 20
> heading Etch 21
> bar     Gel on 21
> tooth   21
> watched Etch 11

# reload-etch-over: The app is closed during the etch until its limit may have passed | veneers, etch-and-rinse
to start etch {2}
at 0:05 away 55
> heading Etch 21
> bar     Rinse 21
> when    at the limit
> tooth   21
> watched Etch 11 +0:0
> never   due in

# clock-gap: The tablet sleeps for a minute while the gel is on both teeth | veneers, etch-and-rinse
to start etch {2}
at 0:05 sleep 60
> heading Etch 11
> bar     Rinse 11
> when    perhaps over
> tooth   11
> word    over?
> clock   Etch 11 +0:09

# bounce: The pedal bounces as the sample bead is laid; the first unit is not taken for loaded | veneers, etch-and-rinse
to end cement-started 1
at 0:40 press
then bounce
> heading Load 11
> bar     11 loaded
> tooth   11
> never   wiped out

# mishap-after-mishap: The unit that fell is up again and will not go down | glass-ceramic
to end load {1}
at 0:03 unit-dropped {1}
then until seat
then unit-high {1}
> heading Wipe out 36
> bar     36 wiped out, dry
> tooth   36
> first   Take it off, wipe the cement out
> never   found
`;
