/**
 * Sentences of the chair that no check of this folder judges: those that claim nothing of the case, each
 * with why, and those that claim something and are not yet tested against the log. The second list is to
 * shrink. A sentence that the chair can show and that is neither checked nor listed fails the test.
 */

interface Group {
  readonly why: string;
  /** By topic of the words: names of entries. */
  readonly entries: Readonly<Record<string, string>>;
}

const NOTHING: readonly Group[] = [
  {
    why: 'The name of a place, a list, a field or a button.',
    entries: {
      app: `
        emergency windowTitle
      `,
      atHand: `
        title swapReason
      `,
      atOnce: `
        title
      `,
      beside: `
        agent give ml noteAgain teeth technique title
      `,
      chair: `
        cautions clocks fiveAgo gapLength gapNone gapOnlyMoved gapSay gapTrustClock instruction
        leave more note now otherSteps place sayWhy speed teeth toRecord toToday unsavedFile
        wentWrong
      `,
      coach: `
        leave title
      `,
      explainedLine: `
        source
      `,
      extra: `
        anaesthesia aside asideDo asideWhy bead done earlier earlierName farView judgedBy
        modifier numbering numbers order orderReason ownMix ownMixName paste patient people
        presses reason reasonDo reasonLabel result results.accepted results.other
        results.too-dark results.too-light roles.assistant roles.dentist saveTrial shade shadeFor
        share trialNote wholeSet why found.firm found.soft found.stringy
      `,
      farView: `
        choose other place toToday
      `,
      materialChair: `
        change chooseLot open title choose
      `,
      list: 'lot',
      opening: 'toChair putDown',
      part: `
        acknowledge clocks close cues less loadAgain lowerArch more next patientLeft patientRight
        status undo upperArch
      `,
      pen: `
        elsewhere give giveAny giveTitle giveTo leave lookOn lookOnName place take takeBack takeName
        takeOver takeOverNow takeOverTitle to toRecord unnamed whoever why
      `,
      runningLine: `
        place stop
      `,
      sheet: `
        all more noteDo noteLabel noteTitle onWhich otherMishap otherSteps skip skipDo skipName skipWhy speed
        speedLabel speedTitle take wentWrong
      `,
      sign: 'add addName keep label title',
      stop: `
        reason stop title
      `,
      subject: `
        portionAlone
      `,
      today: `
        goOn goOnName patient recordName rehearsal running toRecord
      `,
      wipe: `
        open
      `,
    },
  },
  {
    why: 'An order, an advice or a general caution: it says what to do, and nothing of this case.',
    entries: {
      beside: `
        govern noDose shadeFirst mlBad
      `,
      chair: `
        noCaseAdvice
      `,
      evidence: `
        range
      `,
      extra: `
        beadCaution govern shareProblem
      `,
      materialChair: `
        lede which
      `,
      opening: `
        patientRunsTodo patientOpenTodo drillNotDrawn drillNotDrawnTodo
        noProtocolTodo notWriterTodo
      `,
      part: `
        notLoaded notLoadedAdvice wholeDate
      `,
      pen: `
        clocksNow giveLede mayLose refusedElse refusedRuns
      `,
      plan: `
        govern
      `,
      wipe: `
        hold
      `,
      stop: `
        first
      `,
      refusal: `
        answer-missing.todo nothing-taken.todo
        already-done.todo already-running.todo case-closed.todo does-not-apply.todo
        gap-length.todo light-is-off.todo light-is-on.todo moves-before-its-start.todo
        holds-pen.todo not-holder.todo pen-is-held.todo
        moves-past-now.todo not-asked.todo not-running.todo not-yet.todo nothing-to-undo.todo
        plan-does-not-fit.todo protocol-unconfirmed.todo reason-missing.todo unknown-gap.todo
        unknown-option.todo unknown-person.todo unknown-slot.todo unknown-step.todo
        unknown-subject.todo unknown-unit.todo unknown-way-back.todo work-left.todo
        wrong-press.todo
      `,
    },
  },
  {
    why: 'The name of an answer, a material or an input, from a fixed list.',
    entries: {
      condition: `
        conditioned.abraded conditioned.etched conditioned.etched-and-silanated conditioned.no
        facts.conditioned facts.material facts.opacity facts.pontics facts.provisional
        facts.restoration facts.substrate no opacities.high-translucency
        opacities.low-translucency opacities.medium-opacity opacities.opaque provisionals.eugenol
        provisionals.eugenol-free provisionals.none provisionals.resin provisionals.unknown
        substrates.build-up substrates.dentine-sealed substrates.dentine-shows substrates.enamel
        substrates.metal substrates.no-enamel-margin yes
      `,
      material: `
        materials.feldspathic.alone materials.feldspathic.inLine materials.leucite.alone
        materials.leucite.inLine materials.lithium-disilicate.alone
        materials.lithium-disilicate.inLine materials.resin-composite.alone
        materials.resin-composite.inLine materials.zirconia.alone materials.zirconia.inLine
        restorations.bridge.all restorations.bridge.alone restorations.bridge.one
        restorations.crown.all restorations.crown.alone restorations.crown.one
        restorations.inlay.all restorations.inlay.alone restorations.inlay.one
        restorations.onlay.all restorations.onlay.alone restorations.onlay.one
        restorations.veneer.all restorations.veneer.alone restorations.veneer.one
      `,
      plan: `
        about.chance about.dose about.exposure about.heat about.lamp about.mixes about.change-over about.pace
        about.positions about.room about.rounds about.temperature about.transmittance
        about.window inputs.actualC inputs.applySeconds inputs.boundSeconds inputs.chance
        inputs.count inputs.doseJPerCm2 inputs.doseSeconds inputs.draws inputs.endLongestSeconds
        inputs.endShortestSeconds inputs.exposures
        inputs.fewest inputs.heightMm inputs.irradianceMwPerCm2 inputs.knownThicknessMm
        inputs.knownTransmittance inputs.lampSeconds inputs.leadSeconds inputs.level
        inputs.lightSeconds inputs.lux inputs.markerC inputs.material inputs.maxSeconds
        inputs.minSeconds inputs.p90Seconds inputs.passLux inputs.passSeconds
        inputs.perUnitSeconds inputs.pressSeconds inputs.productSeconds inputs.protocolSeconds
        inputs.q10 inputs.quantile inputs.records inputs.referenceC inputs.referenceSeconds
        inputs.reserveSeconds inputs.rinseSeconds inputs.riseInVitroC inputs.riseInVivoC
        inputs.riskMax inputs.roomSeconds inputs.seed inputs.sharedShare inputs.startLongestSeconds inputs.startShortestSeconds inputs.surfaceFactor
        inputs.thicknessMm inputs.tipDiameterMm inputs.tooth inputs.transmittance inputs.units
        inputs.usedSeconds inputs.widthMm inputs.window inputs.workingSeconds
      `,
    },
  },
  {
    why: 'The form in which days and times are written; tests/words/date-words.test.ts holds it.',
    entries: {
      dates: `
        date day dayAndMonth moment momentAndZone momentToTheSecond otherDay second time today
        todayInLine tomorrow tomorrowInLine
      `,
    },
  },
  {
    why: 'Says of this tablet and the clinic’s store, and nothing of the case; tests/sharing-ui/sharing-line-words.test.ts holds it.',
    entries: {
      sharingLine: `
        demo notLetIn notSince notYet otherWindow putOut reading shared
      `,
    },
  },
  {
    why: 'A card of a drill, and what stands around it: what is seen there is drawn and marked as a drill; nothing is said of a patient. tests/drill/drill.test.ts holds when each comes.',
    entries: {
      runningLine: 'drill endDrill',
      drill: `
        place mark end card cardAgain taken nothingYet workingOut named awayLeft awayOver readOut notEnded pruned
        notWorkedOut askAgain drawnOtherwise ended putDown debrief.title
      `,
      drillSight: `
        seen.tooth-shines seen.tooth-red seen.tooth-chalky seen.tooth-brown-film
        seen.unit-drop-inside seen.unit-red-inside seen.unit-on-floor seen.unit-stands-high
        seen.unit-uncovered seen.unit-loaded-uncovered seen.unit-corner-gone
        seen.margin-clear-fluid seen.margin-red seen.margin-red-tacked seen.lamp-dark
        seen.lamp-half seen.cement-strings seen.patient-hand-up seen.outer-face-touched
        seen.lip-wet seen.gum-red-dry seen.patient-swallows seen.telephone seen.someone-enters
        away
      `,
    },
  },
  {
    why: 'Joins what other entries say.',
    entries: {
      beside: `
        stepOf restThenRinse
      `,
      evidence: `
        withBaseline
      `,
      list: 'line',
      materialWarning: `
        all
      `,
      openCase: `
        caseAndMode caseModeAndLast openedAndLast
      `,
      plan: `
        paceAndPortion
      `,
      readBack: `
        paste pasteWith pasteWithShare fdi
      `,
      part: `
        cueAgeNote
      `,
      sheet: `
        stepIn
      `,
      stop: `
        proposal
      `,
    },
  },
  {
    why: 'The chair never draws it: its gauges are decorative, and no press of it waits.',
    entries: {
      part: `
        gaugeName gaugeNameOf gaugePhase.full gaugePhase.over gaugePhase.past gaugePhase.short
        gaugePhase.waiting gaugePhase.within recording
      `,
    },
  },
];

const NOT_YET: readonly Group[] = [
  {
    why: 'What stands at the signature. Single cases: tests/engine/sign-list.test.ts, tests/ui-screens/sign-list.test.tsx, tests/words/breach-words.test.ts.',
    entries: {
      breach: `
        amount.early amount.exposure-short amount.gap-short amount.late amount.over amount.rest-short
        amount.short byUnknown byUpTo passesOver perhaps.early perhaps.gap-short perhaps.late perhaps.over
        perhaps.rest-short perhaps.short told toldOf unknown
      `,
      protocol: `
        mishaps.blood mishaps.chipped mishaps.dried-out mishaps.gelled-early
        mishaps.haemostatic-on-tooth mishaps.left-in-light mishaps.light-failed mishaps.light-weak
        mishaps.over-time mishaps.patient-must-rinse mishaps.saliva mishaps.short-time
        mishaps.stopped mishaps.unit-dropped mishaps.unit-will-not-seat mishaps.wrong-material
      `,
      sign: 'nothing said skipped step voided',
    },
  },
  {
    why: 'Needs the planning thread. Single cases: tests/plan/lag.test.ts, tests/ui-screens/beside.test.tsx.',
    entries: {
      plan: `
        ahead behind noLongerFits onPlan portionOver putOff stillFits waitsFor
      `,
      beside: `
        inAbout inUnderMinute noRest restNext restNow rinseNext rinseNow
      `,
    },
  },
  {
    why: 'How each number of the plan came about. Single cases: tests/ui-screens/chair-numbers.test.ts.',
    entries: {
      plan: `
        chairP90 chairTime decided.arithmetic decided.dose decided.draws decided.hands
        decided.lamp-light decided.measured decided.own-records decided.people decided.product
        decided.published-row decided.room-temperature decided.table decided.tip-size
        formulas.fewest-under-the-risk formulas.lamp-light-allowance formulas.least-risky-groups
        formulas.light-on-one-tooth formulas.longest-exposure-time formulas.median-of-own-records
        formulas.quantile-of-draws formulas.room-at-the-close formulas.share-of-draws
        formulas.shortest-working-time formulas.subjects-per-round formulas.time-for-the-dose
        formulas.tip-positions formulas.transmittance-at-this-thickness formulas.units-per-mix
        formulas.working-time-in-this-room levels.above-marker levels.below-marker
        levels.within-uncertainty longestExposure.computed longestExposure.onlyProduct
        longestExposure.product risk values.dose values.none values.positions values.seconds
        values.units
      `,
      explainedLine: `
        explained
      `,
    },
  },
  {
    why: 'Why a press was refused. Single cases: tests/engine/refusals.test.ts.',
    entries: {
      refusal: `
        answer-missing.what nothing-taken.what
        already-done.what already-running.what case-closed.what does-not-apply.what
        gap-length.what light-is-off.what light-is-on.what moves-before-its-start.what
        moves-past-now.what not-asked.what not-running.what not-yet.what nothing-to-undo.what
        plan-does-not-fit.what protocol-unconfirmed.what reason-missing.what unknown-gap.what
        unknown-option.what unknown-person.what unknown-slot.what unknown-step.what
        holds-pen.what not-holder.what pen-is-held.what
        unknown-subject.what unknown-unit.what unknown-way-back.what work-left.what
        wrong-press.what
      `,
    },
  },
  {
    why: 'Before a way back that depends on what nobody pressed. Single cases: tests/ui-screens/went-wrong.test.tsx, tests/engine/way-back-asked.test.ts.',
    entries: {
      atOnce: 'ifDone',
      sheet: 'notDoneNothing wasDone wasDoneNo wasDoneYes',
    },
  },
  {
    why: 'The lines of a list. Single cases: tests/ui-screens/chair-list.test.tsx, tests/words/offer-words.test.ts.',
    entries: {
      list: 'held noNumber outside wantsAnswer',
    },
  },
  {
    why: 'A pass of light. Single cases: tests/ui-screens/chair-pass.test.tsx, tests/runtime/follow-tones.test.ts, tests/engine/light-pass.test.ts.',
    entries: {
      clock: 'changeOf lightOf onSurface',
      offer: `
        noTones passBegin passConfirm passGoOn passLeft passNone passOn passStop tones
      `,
      pass: `
        again place placeSpot silent states.cut states.led states.lit states.to-come ticked
        title todo unticked
      `,
      sound: 'asked assistant dentist nobody nobodyTodo test',
    },
  },
  {
    why: 'What the first look explains, one press at a time.',
    entries: {
      coach: `
        lessons.ago lessons.bar lessons.clock lessons.close lessons.light lessons.lightOff
        lessons.list lessons.own lessons.record lessons.start lessons.undo lessons.windows
        lessons.wrong
      `,
    },
  },
  {
    why: 'States of the tablet, its pages and its store, not of the log. Single cases: tests/ui-screens.',
    entries: {
      damage: `
        allMissing alsoApart caseName caseUnnamed goesOn ofCase onlyApart someMissing
      `,
      app: `
        emergencyOpen faultOfReader faults.database-blocked faults.database-lost
        faults.newer-format
      `,
      chair: `
        fault leaveNote noCase oneCopy unfinished unfinishedRehearsal unsaved unsavedAdvice twoEnds viewOnly
      `,
      farView: `
        chooseTodo empty emptyTodo farStaleTodo following onItsWay runsNone stale staleTodo unheard
        waits waitsTodo
      `,
      opening: `
        patientOpen patientRuns
        noProtocol notAsked notKept.case-deleted notKept.database-full notKept.no-such-case
        notKept.not-exported notKept.not-writer notKept.stale-epoch notOpened notWriter tryAgain
      `,
      pen: `
        at closedAt gaveUp gaveUpAny giveUnsent givenAny givenHere givenOther heard lineOf notGiven
        lastHeard looking lookingFor neverHeard notHeard openOn putOut putOutAt refused runsOn silentAt standsStill toOne twoEnds twoEndsHere twoEndsThere twoEndsWithoutPen
      `,
      part: `
        notSaved partSaved saved screenHeld screenMaySleep soundOff soundOn undoNothing
      `,
      size: `
        tooSmall
      `,
      today: `
        alsoUnfinished lastPress openedAt progress unfinished
      `,
      wipe: `
        title
      `,
    },
  },
  {
    why: 'Materials: what is on the shelf, and what speaks against a lot. Single cases: tests/materials.',
    entries: {
      materialChair: `
        against askedNow named nothing optional
      `,
      materialWarning: `
        expired notTakenOut openedTooLong recalled recalledWhy stillCold whenNamed.expired
        whenNamed.opened-too-long whenNamed.recalled whenNamed.still-cold
      `,
      stock: `
        noExpiry noRecall notExpired notOpened soon useByNone
      `,
    },
  },
  {
    why: 'What is typed or chosen in a sheet, and what a sheet says that it does.',
    entries: {
      evidence: `
        farBelowBaseline ofBaseline outside typed typedOf value
      `,
      extra: `
        noTrial noWhy numberingLede trial
      `,
      sheet: `
        noWayBack voids
      `,
      stop: `
        lede
      `,
    },
  },
  {
    why: 'Drawn seldom or only at the end; no walk meets them often enough.',
    entries: {
      beside: `
        even unevenSigned unknownSigned visitStays contactsStay endLip endLipUnknown pulpFalls pulpUnknown softTo softUnknown
      `,
      chair: `
        nothing
      `,
      lengths: `
        atLeast
      `,
      offer: `
        closed lastPress
      `,
      readBack: `
        known planned plannedFor shade shadeTriedSince shadesDiffer unlikeMix
      `,
    },
  },
];

function listed(groups: readonly Group[]): ReadonlyMap<string, string> {
  return new Map(
    groups.flatMap(({ why, entries }) =>
      Object.entries(entries).flatMap(([topic, names]) =>
        names
          .trim()
          .split(/\s+/)
          .map((name) => [`${topic}.${name}`, why] as const),
      ),
    ),
  );
}

export const CLAIMS_NOTHING = listed(NOTHING);
export const NOT_YET_TESTED = listed(NOT_YET);
