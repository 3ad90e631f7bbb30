//! The wire struct: fields as files hold them.

use proc_macro2::TokenStream;
use quote::{format_ident, quote};
use syn::{Ident, ItemStruct};

use crate::field::Field;

/// The struct, its constructor, and what fields hold when they are left out.
pub fn expand(item: &ItemStruct, fields: &[Field]) -> TokenStream {
    let (name, attributes, visibility) = (&item.ident, &item.attrs, &item.vis);
    let members = fields.iter().map(|field| {
        let (docs, member, of) = (&field.docs, &field.name, &field.of);
        let serde = serde_of(name, field);
        quote! { #(#docs)* #serde pub #member: #of }
    });
    let required: Vec<&Field> = fields.iter().filter(|field| field.is_required()).collect();
    let parameters = required.iter().map(|field| {
        let (member, of) = (&field.name, &field.of);
        quote! { #member: #of }
    });
    let values = fields.iter().map(|field| {
        let member = &field.name;
        match (&field.missing, &field.inner) {
            (Some(missing), _) => quote! { #member: #missing },
            (None, Some(_)) => quote! { #member: None },
            (None, None) => quote! { #member },
        }
    });
    let missing = fields.iter().filter_map(|field| {
        let (value, of) = (field.missing.as_ref()?, &field.of);
        let (make, is) = missing_names(field);
        Some(quote! {
            fn #make() -> #of { #value }
            fn #is(value: &#of) -> bool { *value == #value }
        })
    });
    quote! {
        #(#attributes)*
        #[derive(Debug, Clone, PartialEq, ::serde::Serialize, ::serde::Deserialize)]
        #visibility struct #name {
            #(#members,)*
        }

        impl #name {
            /// With what is required, and nothing else.
            pub fn new(#(#parameters),*) -> Self {
                Self { #(#values,)* }
            }

            #(#missing)*
        }
    }
}

fn serde_of(name: &Ident, field: &Field) -> TokenStream {
    if field.missing.is_some() {
        let (make, is) = missing_names(field);
        let (make, is) = (format!("{name}::{make}"), format!("{name}::{is}"));
        quote! { #[serde(default = #make, skip_serializing_if = #is)] }
    } else if field.is_week() {
        quote! {
            #[serde(default, with = "crate::week::option", skip_serializing_if = "Option::is_none")]
        }
    } else if field.inner.is_some() {
        quote! { #[serde(default, skip_serializing_if = "Option::is_none")] }
    } else {
        TokenStream::new()
    }
}

fn missing_names(field: &Field) -> (Ident, Ident) {
    (
        format_ident!("missing_{}", field.name),
        format_ident!("is_missing_{}", field.name),
    )
}
