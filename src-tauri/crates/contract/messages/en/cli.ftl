# Words of the command line and of the calendar file.

## Calendar file

calendar-name = { $site }: winter care { $season }
calendar-about = Chores of the season { $season }. Import the file again after a change: entries are brought up to date, not doubled.
calendar-done = Done: { $title }
calendar-skipped = Left out: { $title }
calendar-why-skipped = Left out on { $date }: { $reason }
calendar-window = Window: { $earliest } to { $latest }, best on { $best }.
calendar-killing = Not after { $latest }: plants are lost beyond that date.
calendar-weather = Weather: { $weather }.
calendar-time = Work: about { $time }.
calendar-proof = Proof: { $proof }
calendar-caution = Caution – { $title }. { $text }

## Command line: places

cli-no-site = No place is set up yet. Try the invented season with “hibernacle demo load”, or begin your own with “hibernacle climate import FILE --new-site NAME”.
cli-site-unknown = There is no place “{ $name }”; these are set up: { $known }.
cli-site-twice = Two places are named “{ $name }”; name the one you mean by its identifier from “hibernacle setup show --json”.
cli-demo-loaded = { $site } is loaded: an invented season to look around in. Begin with “hibernacle season”.
cli-next-step = Next: { $step }

## Command line: set-up

cli-setup-place = Place
cli-setup-coordinates = { $coordinates }, { $elevation } above sea level
cli-setup-time-zone = Time zone
cli-setup-climate = Climate
cli-setup-climate-basis = { $name }: { $basis }
cli-setup-climate-figures = first freeze { $autumn }, last freeze { $spring } (medians)
cli-setup-climate-coldest = coldest night of a winter { $minimum } on average
cli-setup-no-climate = none yet: “hibernacle climate import FILE”
cli-setup-shelter = { $name } ({ $kind }, { $length } × { $width })
cli-setup-zone = { $zone }: { $area }, { $light }
cli-setup-no-zone = Without a winter place
cli-setup-own-limit = own limit { $limit }
cli-setup-heater = Heater “{ $name }”, { $power }
cli-setup-heater-set = Heater “{ $name }”, { $power }, set to { $set }
cli-setup-sensor = Sensor “{ $name }”

## Command line: season, today, close-up

cli-today = today
cli-season-head = { $site }, season { $season }
cli-season-basis = Planned from { $basis }.
cli-season-count = { $open ->
    [one] One chore is
   *[other] { $open } chores are
} open of { $chores }.
cli-list-legend = [ ] to do, [x] done, [-] left out; ! plants die after its latest date.
cli-picture-legend = ■ work planned, □ all done, ─ window; ░ eight years of ten, ┃ median. One sign is one week; “--list” shows the chores.
cli-problems = To know or to mend
cli-problems-more = … and { $count } more of this sort; “--list” shows all.
cli-rests-on = What all of this rests on
cli-today-head = { $site }, { $date }
cli-today-sun = Sunset at { $sunset }; { $length } of daylight.
cli-today-no-sunset = The sun does not set today; { $length } of daylight.
cli-soon = In the next seven days
cli-settled = Settled today
cli-late = Late: it was due by { $latest }.
cli-proof = Proof: { $proof }
cli-due-needs = { $time } – { $name }
cli-due-needs-weather = { $time }; { $weather } – { $name }
cli-nothing-due = Nothing is due, and nothing more is planned this season.
cli-nothing-due-next = Nothing is due. Next, on { $date }: { $title }.
cli-close-up-head = { $shelter }, { $zone }: close-up { $season }
cli-close-up-none = No zone is closed up this season: no shelter is set up.
cli-close-up-stamped = Closed up on { $date }.
cli-close-up-open = { $open ->
    [one] One required step (*) is open.
   *[other] { $open } required steps (*) are open.
}

## Command line: chores

cli-chore-unknown = There is no chore “{ $asked }” in this season; “hibernacle season --list” shows their names.
cli-chore-several = “{ $asked }” fits several chores: { $names }. Type more of the name.
cli-chore-open = { $title }: planned for { $date }.
cli-chore-settled = { $title }: { $state }.
cli-closed-up = { $zone } is closed up for the winter.
cli-history-none = Nothing was done with it yet.
cli-moved = moved to { $date }
cli-undone = taken back { $undone }

## Command line: climate

cli-none = none
cli-range = { $low } to { $high }
cli-date-interval = { $date } ({ $from } to { $to })
cli-no-temperature = { $field }: “{ $text }” is no temperature; type a number in the site’s unit, or with its unit: -2.2C, 28F.
cli-file-unreadable = The file cannot be read: { $problem }.
cli-file-not-text = The file is not text in UTF-8 here; save it as plain text or CSV in UTF-8 and try again.
cli-import-no-site = No place is set up yet. Add --new-site NAME to make one at the station’s coordinates, or look around in the invented season with “hibernacle demo load”.
cli-import-no-place = The file does not say where its station stands; add --lat and --lon in degrees (north and east positive).
cli-import-new-site = { $site } is set up at { $coordinates }, time zone { $zone }.
cli-import-read = { $name } ({ $kind }): { $first } to { $last }, { $days ->
    [one] one night
   *[other] { $days } nights
} with a low, { $missing } missing, { $seasons ->
    [one] one season
   *[other] { $seasons } seasons
} with enough of them.
cli-import-lowest = Lowest: { $lowest } on { $lowest_date }.
cli-import-freeze = Median first night at or below { $freezing }: { $autumn }; median last: { $spring }.
cli-import-coldest = Coldest night of a winter: { $minimum } on average.
cli-import-site-there = There is a place “{ $name }” already; leave --new-site out to give it this record, or choose another name.
cli-import-problems = { $problems ->
    [one] One entry was left out or is doubtful:
   *[other] { $problems } entries were left out or are doubtful; the first of them:
}
cli-import-problem = line { $line }: { $what }
cli-freeze-head = Freeze dates at { $site }
cli-freeze-basis = { $station }: { $basis }.
cli-freeze-autumn = First night of autumn at or below
cli-freeze-spring = Last night of spring at or below
cli-freeze-low = low
cli-freeze-autumn-p10 = 10% (early)
cli-freeze-autumn-p90 = 90% (late)
cli-freeze-spring-p10 = 10% (late)
cli-freeze-spring-p90 = 90% (early)
cli-freeze-p50 = 50%
cli-freeze-seasons = seasons
cli-freeze-sample = { $with } of { $all }
cli-freeze-levels = The levels mean what NOAA’s tables mean by them: the chance of such a night on the dangerous side of the date. In autumn that is before it, so the 10% date is the early one: one year in ten has had its first such night by then. In spring that is after it, so the 10% date is the late one: one year in ten still has such a night later.
cli-freeze-intervals = In brackets: where the date lies in nine of ten cases, given so many years.
cli-nights = Nights of a season at or below
cli-nights-mean = mean
cli-nights-low = 10% of seasons have fewer than
cli-nights-high = 10% have more than
cli-free = Days between the last spring and the first autumn night
cli-free-p10 = 10% (long)
cli-free-p90 = 90% (short)
cli-free-summers = summers
cli-coldest = Coldest night of a season
cli-coldest-unknown = The coldest night of a season is not known: fewer than two seasons are complete enough.
cli-coldest-mean = average
cli-coldest-return = once in { $years } years
cli-coldest-lowest = lowest on record

## Command line: calendar and serving

cli-calendar-written = { $entries ->
    [one] One entry
   *[other] { $entries } entries
} written to { $file }. Import it in your calendar; after a change export and import again, and the entries are brought up to date.
cli-serve-no-ui = There is no { $page } here; build the screens first and name their folder with --ui.
cli-serve-which-ui = This program was built without its screens; name the folder of the built ones with --ui.
cli-serving = Open this address in a browser on this machine. Ctrl-C stops.

## Command line: the night, the heat loss

cli-night-head = { $site }, night of { $date }, { $low } outdoors
cli-night-shelter = { $shelter } – { $step }
cli-night-shelter-covered = { $shelter }, under its cover – { $step }
cli-night-failed = { $shelter }: the night could not be computed: { $problem }
cli-night-zone = zone
cli-night-low = coldest
cli-night-band = 8 nights of 10
cli-night-limit = limit
cli-night-chance = chance
cli-night-heated = with heat
cli-night-tenderest = most tender
cli-night-cost = That costs about { $cost } { $currency }.
cli-night-alternatives = Cheaper or safer
cli-night-saves = { $sentence } Saves { $energy } of heat.
cli-night-assumed = What was taken for what was not said
cli-no-shelter = No shelter is set up yet: add the greenhouse, garage or cellar in which your plants spend the winter.
cli-shelter-unknown = There is no shelter “{ $name }”; these are set up: { $known }.
cli-loss-bare = Heater for { $shelter }: { $bare }.
cli-loss-both = Heater for { $shelter }: { $bare } bare, { $covered } under its winter cover.
cli-loss-none = { $shelter } needs no heater on such a night.
cli-loss-heater = { $power } ({ $flow })
cli-loss-head = Heat loss of { $shelter }: { $inside } inside, { $outside } outdoors
cli-loss-path = path
cli-loss-size = size
cli-loss-bare-per-k = W/K bare
cli-loss-bare-w = loss bare
cli-loss-covered-per-k = W/K covered
cli-loss-covered-w = loss covered
cli-loss-air = air that leaks
cli-loss-edge = edge of the floor
cli-loss-sum = in all
cli-compass-n = N
cli-compass-ne = NE
cli-compass-e = E
cli-compass-se = SE
cli-compass-s = S
cli-compass-sw = SW
cli-compass-w = W
cli-compass-nw = NW

## Command line: the winter’s bill

cli-winter-head = { $shelter }: { $winters ->
    [one] one winter
   *[other] { $winters } winters
}, { $years }
cli-winter-set-up = set-up
cli-winter-nights = heated nights
cli-winter-heat = heat
cli-winter-most = 1 winter of 10 over
cli-winter-fuel = fuel
cli-winter-cost = cost, { $currency }
cli-winter-saves = saves
cli-winter-coldest = coldest, 1 winter of 10
cli-winter-risk = winters with damage
cli-winter-failed = could not be run
cli-winter-name = { $name }:
cli-winter-coldest-in = { $low } ({ $zone })
cli-winter-problem = It could not be run: { $problem }.
cli-winter-progress = { $done } of { $total } winters
cli-winter-cancelled = Stopped after { $done } of { $total } winters; nothing was changed.
cli-winter-interrupt = Ctrl-C cannot be watched: { $problem }.
cli-winter-fuel-electricity = { $amount } kWh
cli-winter-fuel-propane = { $amount } L
cli-winter-fuel-natural-gas = { $amount } m³
cli-winter-fuel-kerosene = { $amount } L

## Command line: nights on record, the hold, the forecast

cli-nights-head = Nights at { $site }: what was told and what came
cli-nights-entered = Entered for the night of { $date }:
cli-nights-night = night of
cli-nights-place = place
cli-nights-told = told
cli-nights-came = came
cli-nights-missed = model missed by
cli-nights-outdoors = outdoors
cli-nights-zone-form = “{ $text }” is no low of a zone; write it like "north corner=-3".
cli-nights-zone-twice = “{ $text }” fits more than one zone; name its shelter too. These are set up: { $known }.
cli-nights-zone-unknown = “{ $text }” names no zone; these are set up: { $known }.
cli-hold-head = The hold of { $shelter } without heat, in its coldest place (“{ $zone }”)
cli-hold-inside = inside
cli-hold-hold = hold
cli-hold-ice = ice in pots
cli-forecast-off = Forecasts are off: nothing is fetched. Turn them on with --source met-norway or --source us-nws, or read a saved one with --file.
cli-forecast-head = Nights ahead at { $site }, from { $source }
cli-forecast-file = the document you saved
cli-forecast-met-norway = MET Norway (CC BY 4.0)
cli-forecast-us-nws = the US National Weather Service
cli-forecast-low = low
cli-forecast-high = high after it
cli-forecast-clouds = clouds
cli-forecast-wind = wind
cli-forecast-m-per-s = { $wind } m/s
## Command line: readings

cli-readings-imported = { $file } is imported
cli-readings-preview = { $file }: a look, nothing is imported
cli-readings-format = { $encoding }, { $delimiter } between cells, { $decimal }; first row on line { $line }.
cli-readings-times = Times from “{ $column }”, { $order } ({ $order_from }); the clock shows { $zone } ({ $zone_from }).
cli-readings-times-counted = Times from “{ $column }”, counted since 1970 in UTC.
cli-readings-sensor = sensor
cli-readings-quantity = quantity
cli-readings-unit = unit
cli-readings-new = new
cli-readings-known = known
cli-readings-doubled = doubled
cli-readings-rejected = refused
cli-readings-missing = empty
cli-readings-flagged = doubtful
cli-readings-first = first (UTC)
cli-readings-last = last (UTC)
cli-readings-lowest = lowest
cli-readings-highest = highest
cli-readings-gaps = gaps
cli-readings-place-sensor = { $name } goes to the sensor { $place }.
cli-readings-place-zone = { $name } is new, in { $place }.
cli-readings-place-outdoors = { $name } is new, outdoors.
cli-readings-place-out = { $name } is left out.
cli-readings-place-unknown = Where does { $name } hang? Say --at “{ $name }={ $zone }” with a sensor or zone, --outdoors “{ $name }”, or --skip “{ $name }”.
cli-readings-unused = Not read: { $column } ({ $why }).
cli-readings-refused = Refused: { $count } × { $reason }.
cli-readings-refused-row = line { $line }: { $what }
cli-readings-refused-cell = line { $line }, { $column }: { $what }
cli-readings-ask-order = “{ $written }” on line { $line } may have the day or the month first. Say --order.
cli-readings-ask-order-choice = --order { $order }: { $first } to { $last }
cli-readings-ask-unit = The temperatures of { $columns } are taken for { $unit }, but would suit { $other }. Say --unit.
cli-readings-ask-unit-choice = --unit { $unit }: mostly { $low } to { $high }
cli-readings-ask-zone = From line { $line } on, times run straight through a change of the clocks. Say --zone { $one } for a clock that is never changed, or --zone { $other }.
cli-readings-note-skipped = { $rows } rows lie in the hour that the clocks left out (first on line { $line }); they are kept and marked as doubtful.
cli-readings-note-repeated = { $rows } rows lie in the hour that the clocks repeated (first on line { $line }), and nothing tells in which round; they are kept and marked as doubtful.
cli-readings-note-same = { $rows } readings share their instant with a different one of the same sensor; the first counts.
cli-readings-before = This very file was imported on { $date }.
cli-readings-ready = It can be imported as it stands: leave out --preview.
cli-readings-choice = “{ $text }” is not of the form { $form }.
cli-readings-no-place = There is no sensor and no zone “{ $name }”; there are { $known }.
cli-readings-none = No sensors and no readings yet.
cli-readings-silent = silent for
cli-readings-count = readings
cli-readings-outdoors = outdoors
cli-readings-undone = The import of { $file } is undone: { $removed } readings taken away.
cli-readings-undone-sensors = Removed with it: { $sensors }.
