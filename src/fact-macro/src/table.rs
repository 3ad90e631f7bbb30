//! The table that reading, checking, forms, the schema and the tests' generators go through.

use proc_macro2::TokenStream;
use quote::quote;
use syn::ItemStruct;

use crate::field::{Field, last_word, text_of};
use crate::top::Top;

/// The struct's `Table`.
pub fn expand(top: &Top, item: &ItemStruct, fields: &[Field]) -> TokenStream {
    let (name, word, is_part) = (&item.ident, &top.name, top.is_part);
    let doc_lines: Vec<_> = item
        .attrs
        .iter()
        .filter(|attribute| attribute.path().is_ident("doc"))
        .cloned()
        .collect();
    let doc = text_of(&doc_lines);
    let title = format!("form.{}", word.value());
    let action = format!("{title}.do");
    let docs = fields.iter().map(Field::doc);
    let rows = fields.iter().map(row);
    let one_of = top.one_of.iter().map(ToString::to_string);
    let checks = fields.iter().map(|field| {
        let (member, text, limit) = (&field.name, field.name.to_string(), field.limit());
        quote! { Value::check(&self.#member, #text, #limit)?; }
    });
    let named = match top.one_of.as_slice() {
        [one, other] => {
            let text = one.to_string();
            quote! { one_named(#text, self.#one.is_some(), self.#other.is_some())?; }
        }
        _ => TokenStream::new(),
    };
    let faults = fields.iter().map(|field| {
        let (member, text, limit) = (&field.name, field.name.to_string(), field.limit());
        quote! { Value::faults(&self.#member, #text, #limit, found); }
    });
    let date = fields
        .iter()
        .find(|field| field.name == "date" && field.is_required())
        .map(|_| quote! { fn date(&self) -> Option<::chrono::NaiveDate> { Some(self.date) } });
    quote! {
        const _: () = {
            use crate::fact::table::{Ask, Checked, Faults, Field, Need, Table, Value, one_named};

            impl Table for #name {
                const NAME: &'static str = #word;
                const DOC: &'static str = #doc;
                const IS_PART: bool = #is_part;
                const TITLE: &'static str = #title;
                const ACTION: &'static str = #action;
                const ONE_OF: &'static [&'static str] = &[#(#one_of),*];

                fn docs() -> Vec<&'static str> {
                    vec![#(#docs),*]
                }

                fn fields() -> Vec<Field> {
                    vec![#(#rows),*]
                }

                fn check(&self) -> Checked {
                    #(#checks)*
                    #named
                    Ok(())
                }

                fn faults(&self, found: &mut Faults) {
                    #(#faults)*
                }

                #date
            }
        };
    }
}

fn row(field: &Field) -> TokenStream {
    let (name, limit) = (field.name.to_string(), field.limit());
    let of = &field.of;
    let need = match (&field.missing, &field.inner) {
        (Some(missing), _) => quote! { Need::Missing(::serde_json::json!(#missing)) },
        (None, Some(_)) => quote! { Need::Optional },
        (None, None) => quote! { Need::Required },
    };
    let unit = match &field.unit {
        Some(unit) => quote! { Some(crate::typed::Measure::#unit) },
        None => quote! { None },
    };
    let ask = match &field.ask {
        None => quote! { None },
        Some(ask) => {
            let label = &ask.label;
            let has = |word: &str| ask.flags.iter().any(|flag| flag == word);
            let (pad, fixed) = (has("pad"), has("fixed"));
            let (area, tray_number) = (has("area"), has("tray_number"));
            let within = match &ask.within {
                Some(within) => quote! { #within },
                None => quote! { &[] },
            };
            quote! {
                Some(Ask {
                    label: #label,
                    pad: #pad,
                    fixed: #fixed,
                    area: #area,
                    tray_number: #tray_number,
                    within: #within,
                })
            }
        }
    };
    let kind = last_word(field.inner.as_ref().unwrap_or(of));
    quote! {
        Field {
            name: #name,
            need: #need,
            shape: <#of as Value>::shape(#limit),
            type_name: #kind,
            unit: #unit,
            ask: #ask,
        }
    }
}
