//! The state type of what is set up: each field is as the last entry that names it says.

use proc_macro2::TokenStream;
use quote::quote;
use syn::ItemStruct;

use crate::field::Field;
use crate::top::Top;

/// The state type with its merge, where one is asked for.
pub fn expand(top: &Top, item: &ItemStruct, fields: &[Field]) -> syn::Result<TokenStream> {
    let Some(state) = &top.state else {
        return Ok(TokenStream::new());
    };
    let fact = &item.ident;
    let docs = item
        .attrs
        .iter()
        .filter(|attribute| attribute.path().is_ident("doc"));
    let Some((of, rest)) = fields.split_first().filter(|(of, _)| of.name == "of") else {
        return Err(syn::Error::new_spanned(fact, "`of` comes first"));
    };
    let id = &of.of;

    let mut members = Vec::new();
    let mut begins = Vec::new();
    let mut takes = Vec::new();
    let mut given = Vec::new();
    for field in rest {
        let (name, docs, written) = (&field.name, &field.docs, &field.of);
        let week = field
            .is_week()
            .then(|| quote! { #[serde(serialize_with = "crate::week::option::serialize")] });
        let (of, begin, give) = match (&field.plain, &field.inner) {
            (Some(value), Some(inner)) => (
                quote! { #inner },
                match value {
                    Some(value) => quote! { #value },
                    None => quote! { Default::default() },
                },
                quote! { Some(self.#name.clone()) },
            ),
            (None, Some(_)) => (
                quote! { #written },
                quote! { None },
                quote! { self.#name.clone() },
            ),
            // Figures one by one: in the state those that are set.
            (_, None) => (
                quote! { <#written as crate::fact::table::ByName>::Set },
                quote! { Default::default() },
                quote! { crate::fact::table::ByName::of_set(&self.#name) },
            ),
        };
        members.push(quote! { #(#docs)* #week pub #name: #of });
        begins.push(quote! { #name: #begin });
        given.push(quote! { #name: #give });
        takes.push(match &field.merge {
            Some(merge) => quote! { #merge(self, fact); },
            None => quote! { crate::fact::table::Merge::merge(&fact.#name, &mut self.#name); },
        });
    }
    for also in &top.also {
        let (name, of, doc) = (&also.name, &also.of, &also.doc);
        members.push(quote! { #[doc = #doc] pub #name: #of });
        begins.push(quote! { #name: Default::default() });
    }
    Ok(quote! {
        #(#docs)*
        #[derive(Debug, Clone, PartialEq, ::serde::Serialize)]
        pub struct #state {
            /// Its id.
            pub id: #id,
            #(#members,)*
        }

        impl #state {
            /// Before anything is set.
            pub fn new(id: #id) -> Self {
                Self { id, #(#begins,)* }
            }

            /// Takes the fields that an entry names.
            pub fn take(&mut self, fact: &#fact) {
                #(#takes)*
            }

            /// All that is set, as one entry would say it: what a form begins with.
            pub fn to_fact(&self) -> #fact {
                #fact { of: self.id.clone(), #(#given,)* }
            }
        }
    })
}
