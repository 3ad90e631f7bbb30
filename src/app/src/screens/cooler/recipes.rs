//! Recipes: stems by role for a bouquet or a jar.

use leptos::prelude::*;
use season::almanac::Almanac;
use season::fact::RecipeFact;
use season::ids::RecipeId;
use season::state::Recipe;
use season::words::{Manner, Say, text};

use super::lines::{LineFields, Lines};
use crate::browser::{clock, random};
use crate::parts::read;
use crate::parts::typed::show_first_wrong;
use crate::parts::{Icon, SaveButton, SaveProblem, Saver, Section, Sheet, TextField, Typed};
use crate::screens::wanted;
use crate::store::Store;

fn told(almanac: &Almanac<'_>, recipe: &Recipe, manner: Manner) -> String {
    let lines: Vec<String> = recipe
        .lines
        .iter()
        .map(|line| {
            Say::new("recipes.line")
                .with("n", line.stems)
                .with("wanted", wanted::say(almanac, &line.wanted))
                .write(manner)
        })
        .collect();
    lines.join(", ")
}

/// All recipes in use.
#[component]
pub fn RecipesView() -> impl IntoView {
    let store = Store::here();
    let all = Memo::new(move |_| {
        let manner = store.manner();
        store.with_almanac(|almanac| {
            let mut recipes: Vec<(Recipe, String)> = almanac
                .season()
                .recipes
                .values()
                .filter(|recipe| !recipe.retired)
                .map(|recipe| (recipe.clone(), told(almanac, recipe, manner)))
                .collect();
            recipes.sort_by(|a, b| (&a.0.name, &a.0.id).cmp(&(&b.0.name, &b.0.id)));
            recipes
        })
    });
    // The recipe that is open; `Some(None)` for a new one.
    let open = RwSignal::new(None::<Option<Recipe>>);
    view! {
        <Section head="recipes.head">
            {move || {
                let all = all.get();
                if all.is_empty() {
                    return view! { <p class="soft">{text("recipes.none")}</p> }.into_any();
                }
                let lines = all
                    .into_iter()
                    .map(|(recipe, note)| view! { <Line recipe note open /> })
                    .collect_view();
                view! { <ul class="contents">{lines}</ul> }.into_any()
            }}
            <div class="actions">
                <button class="btn" type="button" on:click=move |_| open.set(Some(None))>
                    <Icon name="plus" small=true />
                    {text("recipes.new")}
                </button>
            </div>
        </Section>
        {move || open.get().map(|recipe| view! { <RecipeSheet recipe open /> })}
    }
}

#[component]
fn Line(recipe: Recipe, note: String, open: RwSignal<Option<Option<Recipe>>>) -> impl IntoView {
    let name = recipe.name.clone();
    view! {
        <li>
            <button
                class="contents__link contents__link--deed"
                type="button"
                on:click=move |_| open.set(Some(Some(recipe.clone())))
            >
                <Icon name="order" />
                <span>
                    <span class="contents__name">{name}</span>
                    <span class="contents__note">{note}</span>
                </span>
                <Icon name="chevron" />
            </button>
        </li>
    }
}

#[component]
fn RecipeSheet(recipe: Option<Recipe>, open: RwSignal<Option<Option<Recipe>>>) -> impl IntoView {
    let saver = Saver::new();
    let title = if recipe.is_some() {
        "recipes.edit"
    } else {
        "recipes.new"
    };
    let name = Typed::new(recipe.as_ref().map_or("", |recipe| &recipe.name));
    let lines = Lines::new(recipe.as_ref().map_or(&[], |recipe| &recipe.lines));
    if recipe.is_none() {
        lines.add();
    }
    let id = recipe.map(|recipe| recipe.id);
    let known = id.is_some();
    let id =
        StoredValue::new(id.unwrap_or_else(|| RecipeId::mint(clock::now_ms(), random::bits())));
    let empty = RwSignal::new(false);
    let on_close = Callback::new(move |()| open.set(None));
    let save = Callback::new(move |()| {
        empty.set(false);
        let named = name.read(read::name);
        let (Some(named), Some(read)) = (named, lines.read()) else {
            return show_first_wrong();
        };
        if read.is_empty() {
            return empty.set(true);
        }
        let fact = RecipeFact {
            name: Some(named),
            lines: Some(read),
            ..RecipeFact::new(id.get_value())
        };
        saver.check_and_save(vec![fact.into()], &[("name", name)], move |_| {
            open.set(None)
        });
    });
    let retire = move |_| {
        let fact = RecipeFact {
            retired: Some(true),
            ..RecipeFact::new(id.get_value())
        };
        saver.save(vec![fact.into()], move |_| open.set(None));
    };
    view! {
        <Sheet title=title on_close>
            <div class="sheet__body">
                <TextField typed=name label="recipes.name" />
                <LineFields lines label="recipes.stems" by=1 />
                <p class="field__error" role="alert">
                    {move || empty.get().then(|| text("recipes.empty"))}
                </p>
                <SaveProblem saver />
                {known
                    .then(|| {
                        view! {
                            <button class="btn btn--quiet" type="button" on:click=retire>
                                {text("recipes.retire")}
                            </button>
                        }
                    })}
            </div>
            <div class="sheet__foot">
                <button class="btn" type="button" on:click=move |_| open.set(None)>
                    {text("form.not_now")}
                </button>
                <SaveButton saver label="recipes.save" on_tap=save />
            </div>
        </Sheet>
    }
}
