//! The attribute `#[fact]`: a struct with annotated fields is the one table of a kind of fact.
//!
//! It writes the wire struct (with serde's attributes), the constructor that takes what is required and leaves out the rest, the
//! table that reading, checking, forms, the schema and the tests' generators go through (`season::fact::table`), and, for what is
//! set up, the state type with its merge by field.
//!
//! On the struct:
//! - `kind = "bed"`: a kind of entry by its name in files; `part = "tray"`: an object inside an entry.
//! - `state = Bed`: what entries of the kind add up to; `also(name: Type, "doc")`: a field of the state that no entry sets.
//! - `one_of(a, b)`: exactly one of the two optional fields is there.
//!
//! On a field:
//! - `#[limit(LIMIT)]`: what it may hold, where its type alone does not say; `#[unit(Length)]`: what the number measures.
//! - `#[missing(value)]`: the value when it is left out. `Option` fields need none.
//! - `#[plain]` or `#[plain(value)]`: in the state not an `Option`, but this value (or the type's default) until it is set.
//! - `#[merge(function)]`: how the state takes the field, where a later value does not simply replace the earlier one.
//! - `#[ask("label.key", …)]`: asked in the kind's form, in the order of the fields; see [`field::Ask`].

mod field;
mod state;
mod table;
mod top;
mod wire;

use proc_macro::TokenStream;
use quote::quote;
use syn::{ItemStruct, parse_macro_input};

use crate::field::Field;
use crate::top::Top;

/// See the crate's documentation.
#[proc_macro_attribute]
pub fn fact(arguments: TokenStream, item: TokenStream) -> TokenStream {
    let top = parse_macro_input!(arguments as Top);
    let item = parse_macro_input!(item as ItemStruct);
    match expand(&top, &item) {
        Ok(tokens) => tokens.into(),
        Err(error) => error.to_compile_error().into(),
    }
}

fn expand(top: &Top, item: &ItemStruct) -> syn::Result<proc_macro2::TokenStream> {
    let fields = item
        .fields
        .iter()
        .map(Field::of)
        .collect::<syn::Result<Vec<_>>>()?;
    let wire = wire::expand(item, &fields);
    let table = table::expand(top, item, &fields);
    let state = state::expand(top, item, &fields)?;
    Ok(quote! { #wire #table #state })
}
