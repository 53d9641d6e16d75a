//! What a chore rule must satisfy by itself, before it is compared with other rules.

use chrono::NaiveDate;

use super::{ChoreRule, LimitOf, MonthDay, Phase, Repeat, Scope, Trigger, When};
use crate::field::{FieldError, filled, within};

impl ChoreRule {
    /// Checks every field that can be judged without other rules.
    ///
    /// # Errors
    /// The first field that cannot be used.
    pub fn check(&self) -> Result<(), FieldError> {
        let good_key = !self.key.is_empty()
            && self.key.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
        if !good_key {
            return Err(FieldError::new(
                "key",
                format!("“{}” is not a key", self.key),
                "use lower-case letters, digits and hyphens",
            ));
        }
        filled("title", &self.title, "say what to do in a few words")?;
        filled("why", &self.why, "say why in one or two sentences")?;
        filled("source", &self.source, "name the source, or write “common practice, no source”")?;
        within("minutes", f64::from(self.minutes), 1.0, 1440.0, "enter the minutes for one target")?;
        self.check_step()?;
        self.when.check(self.scope)?;
        self.repeat.as_ref().map_or(Ok(()), |repeat| repeat.check(self.scope))
    }

    fn check_step(&self) -> Result<(), FieldError> {
        if self.phase == Phase::CloseUp && self.proof.as_ref().is_none_or(|proof| proof.trim().is_empty()) {
            return Err(FieldError::new(
                "proof",
                "is missing from a step of closing up",
                "say how to prove that it is done well",
            ));
        }
        if !self.required {
            return Ok(());
        }
        if self.phase != Phase::CloseUp || self.scope == Scope::Site {
            return Err(FieldError::new(
                "required",
                "is set on a chore that is on no zone's closing-up list",
                "leave it out, or give the chore the phase close_up and the scope shelter, zone or planting",
            ));
        }
        if self.repeat.is_some() {
            return Err(FieldError::new(
                "required",
                "is set on a chore that comes again, so that no zone would ever be closed up",
                "leave it out, or take away the repeat",
            ));
        }
        Ok(())
    }
}

impl When {
    fn check(&self, scope: Scope) -> Result<(), FieldError> {
        if self.best.is_empty() {
            return Err(FieldError::new(
                "when.best",
                "is empty",
                "give at least one way to find the date to aim at",
            ));
        }
        if self.killing && self.latest.is_empty() {
            return Err(FieldError::new(
                "when.killing",
                "is set without a latest date",
                "say in when.latest which date kills",
            ));
        }
        for (name, triggers) in [("earliest", &self.earliest), ("best", &self.best), ("latest", &self.latest)]
        {
            for (index, trigger) in triggers.iter().enumerate() {
                trigger.check(&format!("when.{name}[{index}]"), scope)?;
            }
        }
        Ok(())
    }

    /// All triggers with the path of their field.
    pub(super) fn triggers(&self) -> impl Iterator<Item = (String, &Trigger)> {
        [("earliest", &self.earliest), ("best", &self.best), ("latest", &self.latest)].into_iter().flat_map(
            |(name, triggers)| {
                triggers
                    .iter()
                    .enumerate()
                    .map(move |(index, trigger)| (format!("when.{name}[{index}]"), trigger))
            },
        )
    }
}

impl Repeat {
    fn check(&self, scope: Scope) -> Result<(), FieldError> {
        within(
            "repeat.every_days",
            f64::from(self.every_days),
            1.0,
            366.0,
            "enter the days from one to the next",
        )?;
        self.until.check("repeat.until", scope)
    }
}

impl Trigger {
    fn check(&self, field: &str, scope: Scope) -> Result<(), FieldError> {
        match self {
            Self::FreezeDate { limit, chance, days, .. } | Self::LowReaches { limit, chance, days, .. } => {
                check_chance(&format!("{field}.chance"), *chance)?;
                check_days(&format!("{field}.days"), *days)?;
                limit.check(&format!("{field}.limit"), scope)
            }
            Self::Chore { days, .. } | Self::Stage { days, .. } => {
                check_days(&format!("{field}.days"), *days)
            }
            Self::Calendar { on } => on.check(&format!("{field}.on")),
        }
    }
}

impl LimitOf {
    fn check(self, field: &str, scope: Scope) -> Result<(), FieldError> {
        match self {
            Self::Fixed { temp_c } => {
                within(&format!("{field}.temp_c"), temp_c, -45.0, 25.0, "enter a night low in °C")
            }
            _ if scope == Scope::Site => Err(FieldError::new(
                field,
                "asks for the limit of plants, but the chore is for the whole site",
                "use a fixed temperature, or the scope shelter, zone or planting",
            )),
            _ => Ok(()),
        }
    }
}

impl MonthDay {
    /// The day in a leap year.
    pub(super) fn in_leap_year(self) -> Option<NaiveDate> {
        NaiveDate::from_ymd_opt(2000, self.month, self.day)
    }

    fn check(self, field: &str) -> Result<(), FieldError> {
        if self.in_leap_year().is_some() {
            return Ok(());
        }
        Err(FieldError::new(
            field,
            format!("day {} of month {} does not exist", self.day, self.month),
            "enter a month from 1 to 12 and a day that this month has",
        ))
    }
}

fn check_chance(field: &str, chance: f64) -> Result<(), FieldError> {
    if chance > 0.0 && chance < 1.0 {
        return Ok(());
    }
    Err(FieldError::new(
        field,
        format!("is {chance}, not between 0 and 1"),
        "enter a share of years or nights such as 0.1 for one in ten",
    ))
}

fn check_days(field: &str, days: i32) -> Result<(), FieldError> {
    within(field, f64::from(days), -366.0, 366.0, "enter days within a year")
}
