/** Visits that stop, and mishaps of the preparation and the finishing visit. Read as `table.ts` says. */

export const VISIT = `
# stopped-before-etch: The visit stops before the etch | seating
to end field-isolated case
at 0:05 stopped-before-etch
> heading Cover teeth {1}, {2}
> bar     Teeth covered again
> tooth   {1}, {2}
> first   Cover the teeth again
> care    Blue light: shield, eyes away
> then    Cold materials are out

# stopped-before-bond: The visit stops with adhesive on both teeth | seating
to end coats|bond {2}
at 0:05 stopped-before-bond
> heading Cover teeth {1}, {2}
> bar     Teeth covered again
> tooth   {1}, {2}
> first   Nothing is bonded here yet. Cover again
> then    Provisionals are off|Provisional off, {2}

# stopped-after-seat: The visit stops, the first unit is tacked | seating
to end tack {1}
at 0:05 stopped-after-seat {1}
> heading Lift excess {1}
> bar     Excess lifted, {1}
> tooth   {1}
> first   Tack and expose first what is seated
> watched Floss the contact
> care    Sharp: guard gum, lip, cheek

# cord-too-long: Cord with astringent past ten minutes | seating with cord
to start cord-soaked case
at 10:10 cord-too-long
> heading Cord, agent
> bar     Cord out, rinsing
> over    cord
> clock   Cord, agent
> care    Pieces in, pieces out: count

# opened-early: A contact was opened too early | finishing
to end contacts-opened 11-21
at 0:05 opened-early 11-21
> heading Coarse strip …
> first   It cannot be undone. Look at the margins of both units once more
> care    Thin edge chips: light hand

# gum-bleeds: The gum bleeds into the margins | finishing
to end flash-facial {1}
at 0:05 gum-bleeds
> heading Flash, lingual 11, 21
> bar     Lingual margins gone over
> tooth   11, 21
> first   Stop it first: pressure, then go on

# margin-chipped: The margin of the first unit chipped | finishing
to end explore-facial {1}
at 0:05 margin-chipped {1}
> heading Margins 11
> bar     Margins refined, 11
> tooth   11
> first   Smooth what can be smoothed, probe all round again, polish again
> care    Heat: water on, light hand

# must-rinse: The patient must rinse | finishing
to end flash-lingual {1}
at 0:05 must-rinse
> heading Margins 11, 21
> bar     Margins refined
> first   Rinse, dry the margins again and go on where it was interrupted

# finishing-stopped: The finishing visit stops half-way | finishing
to end bite-marked case
at 0:05 stopped
> heading Mark bite
> bar     Bite marked
> first   What is done stays done. The bite is marked again when you go on

# preparation-dropped: A unit falls beside the model on the day before | preparation
to end dry-fit {1}
at 0:05 unit-dropped {1}
> heading Dry fit 11
> first   Find it, look it over under magnification, and try it on the model again
> care    -
> next    Dry fit 21
> tooth   11

# out-too-long: Materials stood out too long | preparation
to end cement-out case
at 0:05 out-too-long
> heading Cement out
> bar     Cement is out
> first   Appointment moved: back into the refrigerator, and out again in time

# put-off: The appointment is put off | preparation
to end cement-out case
at 0:05 put-off
> heading Cement lot
> bar     Cement noted
> first   Fit, consent and shade stand

# preparation-light-weak: The light reads weak on the day before | preparation
to end light-read case
at 0:05 light-weak
> heading Light output
> bar     Light output: not entered
> first   Clean the tip, take the sleeve off and read again
> care    Blue light: shield, eyes away
`;
