//! The plan, searched for by a thread of its own while the screens stay at hand.
//!
//! One search serves all screens. It begins when a screen first asks, and anew when the season or the day has changed since.

use std::sync::Arc;
use std::time::Duration;

use chrono::NaiveDate;
use leptos::prelude::*;
use planner::Answer;
use planner::protocol::{Request, Response};
use season::Season;
use season::chance::{ByChance, ask};
use season::plan::{Asker, Brief, Plan, Proposal};

use crate::browser::planner::Thread;
use crate::store::Store;

/// Time for the browser to show that planning has begun.
const PAUSE: Duration = Duration::from_millis(30);
/// The longest that is searched, seconds.
const LIMIT_S: f64 = 25.0;

/// The seed of the seasons that are played: one and the same, so that a change of the plan shows and not another luck.
const CHANCE_SEED: u64 = 20_270_101;

/// How far the search has come.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Progress {
    /// Under way.
    Searching,
    /// Come to its end.
    Done,
    /// Called off by the user; the best plan so far stands.
    Stopped,
    /// Broken off: why, if that is known.
    Failed(String),
}

/// The plan of the season as it is. Copies share it.
#[derive(Clone, Copy)]
pub struct Planning {
    plan: RwSignal<Option<Arc<Plan>>>,
    progress: RwSignal<Progress>,
    /// What the plan is of.
    of: StoredValue<Option<(Arc<Season>, NaiveDate)>>,
    brief: StoredValue<Option<Arc<Brief>>>,
    thread: StoredValue<Option<Thread>, LocalStorage>,
    /// How the season with the plan fares by chance; none while it is played.
    chances: RwSignal<Option<Arc<ByChance>>>,
    player: StoredValue<Option<Thread>, LocalStorage>,
    /// Whether the seasons could not be played.
    broken: RwSignal<bool>,
}

impl Planning {
    /// Makes it under the owner that calls, which must live as long as the page.
    pub fn at_root() -> Self {
        Self {
            plan: RwSignal::new(None),
            progress: RwSignal::new(Progress::Searching),
            of: StoredValue::new(None),
            brief: StoredValue::new(None),
            thread: StoredValue::new_local(None),
            chances: RwSignal::new(None),
            player: StoredValue::new_local(None),
            broken: RwSignal::new(false),
        }
    }

    /// Plans now if need be, and whenever the season changes, for as long as the component that asks lives.
    pub fn here() -> Self {
        let store = Store::here();
        // The root provides it before any screen is made.
        let planning = expect_context::<Self>();
        Effect::new(move |_| planning.follow(store, store.season(), store.today()));
        planning
    }

    fn follow(self, store: Store, season: Arc<Season>, today: NaiveDate) {
        let known = self.of.with_value(|of| {
            of.as_ref()
                .is_some_and(|(of, day)| Arc::ptr_eq(of, &season) && *day == today)
        });
        if known {
            return;
        }
        self.of.set_value(Some((season.clone(), today)));
        self.end();
        self.plan
            .update(|plan| *plan = plan.take().and_then(|plan| still_good(&plan, &season)));
        self.progress.set(Progress::Searching);
        self.chances.set(None);
        self.broken.set(false);
        set_timeout(
            move || {
                // What was recorded meanwhile has started another round.
                if Arc::ptr_eq(&season, &store.season_now()) {
                    self.begin(store);
                }
            },
            PAUSE,
        );
    }

    fn begin(self, store: Store) {
        let brief = store.outlook_now().with(Brief::of);
        let brief = Arc::new(brief);
        self.brief.try_set_value(Some(brief.clone()));
        let ask = Request::Plan {
            problem: brief.problem.clone(),
            limit_s: LIMIT_S,
        };
        let told = move |tell: Response| match tell {
            Response::Ready | Response::Played(_) | Response::Chance(_) => {}
            Response::Better(found) => {
                let answer = Answer::so_far(&brief.problem, found);
                self.take(store, &brief, &answer);
            }
            Response::Planned(answer) => {
                self.take(store, &brief, &answer);
                self.progress.try_set(Progress::Done);
                self.end_soon();
                self.play(store);
            }
            Response::Failed(why) => {
                self.progress.try_set(Progress::Failed(why));
                self.end_soon();
            }
        };
        match Thread::start(ask, told) {
            Some(thread) => {
                self.thread.try_set_value(Some(thread));
            }
            None => {
                self.progress.try_set(Progress::Failed(String::new()));
            }
        }
    }

    fn take(self, store: Store, brief: &Brief, answer: &Answer) {
        let outlook = store.outlook_now();
        let plan = outlook.with(|outlook| brief.read(outlook, answer));
        self.plan.try_set(Some(Arc::new(plan)));
    }

    /// Plays the season by chance, with what is proposed as if it were accepted.
    fn play(self, store: Store) {
        let plan = self.plan.get_untracked();
        let proposals = plan.iter().flat_map(|plan| &plan.proposals);
        let asked = store.outlook_now().with(|outlook| {
            let courses = proposals.filter_map(|proposal| proposal.course(outlook));
            ask(outlook, &courses.collect::<Vec<_>>(), CHANCE_SEED)
        });
        let case = asked.case.clone();
        let told = move |tell: Response| {
            if let Response::Chance(outcome) = &tell {
                self.chances.try_set(Some(Arc::new(asked.read(outcome))));
            }
            if matches!(tell, Response::Failed(_)) {
                self.broken.try_set(true);
            }
            if matches!(tell, Response::Chance(_) | Response::Failed(_)) {
                set_timeout(
                    move || {
                        self.player.try_set_value(None);
                    },
                    Duration::ZERO,
                );
            }
        };
        let player = Thread::start(Request::Play(case), told);
        if player.is_none() {
            self.broken.try_set(true);
        }
        self.player.try_set_value(player);
    }

    /// Ends the search's thread; not from within what it calls.
    fn end_soon(self) {
        set_timeout(
            move || {
                self.thread.try_set_value(None);
            },
            Duration::ZERO,
        );
    }

    /// Ends what is under way.
    fn end(self) {
        self.thread.try_set_value(None);
        self.player.try_set_value(None);
    }

    /// Calls the search off; the best plan so far stands, and is put to chance.
    pub fn stop(self, store: Store) {
        self.end();
        self.progress.set(Progress::Stopped);
        if self.plan.with_untracked(Option::is_some) {
            self.play(store);
        }
    }

    /// How the season with the plan fares by chance; none while it is played. Follows changes.
    pub fn chances(self) -> Option<Arc<ByChance>> {
        self.chances.get()
    }

    /// Searches once more.
    pub fn again(self, store: Store) {
        self.of.set_value(None);
        self.follow(store, store.season_now(), store.today_now());
    }

    /// The best plan so far; none before the first is found. Follows changes.
    pub fn plan(self) -> Option<Arc<Plan>> {
        self.plan.get()
    }

    /// How far the search has come. Follows changes.
    pub fn progress(self) -> Progress {
        self.progress.get()
    }

    /// Whether seasons are being played, or will be when the search is over. Follows changes.
    pub fn is_playing(self) -> bool {
        let comes = match self.progress() {
            Progress::Searching | Progress::Done => true,
            Progress::Stopped => self.plan.with(Option::is_some),
            Progress::Failed(_) => false,
        };
        comes && !self.broken.get() && self.chances.with(Option::is_none)
    }

    /// Whether a better plan may be on its way. Follows changes.
    pub fn is_busy(self) -> bool {
        self.progress
            .with(|progress| *progress == Progress::Searching)
    }
}

/// What of a plan may stay on the screen while the next one is searched for: nothing of another season's, and no proposal that was
/// accepted meanwhile, lest a second tap accepts it twice.
fn still_good(plan: &Plan, season: &Season) -> Option<Arc<Plan>> {
    let known = |asker: &Asker| match asker {
        Asker::Target(id) => season.targets.contains_key(id),
        Asker::Order(id) => season.orders.contains_key(id),
    };
    let askers = plan.proposals.iter().map(|proposal| &proposal.serves);
    let mut askers = askers.chain(plan.shortfalls.iter().map(|short| &short.asker));
    if !askers.all(known) {
        return None;
    }
    let accepted = |proposal: &Proposal| {
        season.planned.values().any(|planned| {
            !planned.retired
                && planned.variety.as_ref() == Some(&proposal.variety)
                && planned.sow == Some(proposal.sow)
                && planned.space.as_ref() == Some(&proposal.space)
        })
    };
    let mut left = plan.clone();
    left.proposals.retain(|proposal| !accepted(proposal));
    Some(Arc::new(left))
}
