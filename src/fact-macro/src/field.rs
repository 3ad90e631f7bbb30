//! One field of the table as it is written.

use proc_macro2::TokenStream;
use quote::quote;
use syn::parse::{Parse, ParseStream};
use syn::{
    Attribute, Expr, ExprLit, GenericArgument, Ident, Lit, LitStr, Meta, Path, PathArguments,
    Token, Type, parenthesized,
};

/// One field.
pub struct Field {
    /// Its name, in files too.
    pub name: Ident,
    /// Its type as written.
    pub of: Type,
    /// What is inside, where the type is an `Option`.
    pub inner: Option<Type>,
    /// Its documentation's lines.
    pub docs: Vec<Attribute>,
    /// Its limit.
    pub limit: Option<Expr>,
    /// What the number measures.
    pub unit: Option<Ident>,
    /// Its value when it is left out.
    pub missing: Option<Expr>,
    /// Not an `Option` in the state: its value until it is set, or the type's default.
    pub plain: Option<Option<Expr>>,
    /// How the state takes it.
    pub merge: Option<Path>,
    /// How it is asked in a form.
    pub ask: Option<Ask>,
}

/// `#[ask("label", pad, fixed, area, tray_number, within(SPACES))]`.
///
/// `pad`: with large keys. `fixed`: asked only when an earlier record is corrected. `area`: a text of several lines.
/// `tray_number`: one of the sowing's trays. `within`: a space of these kinds.
pub struct Ask {
    /// The key of its label.
    pub label: LitStr,
    /// Words of the list above.
    pub flags: Vec<Ident>,
    /// Kinds of space to choose among.
    pub within: Option<Path>,
}

impl Parse for Ask {
    fn parse(input: ParseStream<'_>) -> syn::Result<Self> {
        let mut ask = Self {
            label: input.parse()?,
            flags: Vec::new(),
            within: None,
        };
        while input.parse::<Option<Token![,]>>()?.is_some() && !input.is_empty() {
            let word: Ident = input.parse()?;
            if word == "within" {
                let inner;
                parenthesized!(inner in input);
                ask.within = Some(inner.parse()?);
            } else {
                ask.flags.push(word);
            }
        }
        Ok(ask)
    }
}

impl Field {
    /// Reads a field with its attributes.
    pub fn of(field: &syn::Field) -> syn::Result<Self> {
        let Some(name) = field.ident.clone() else {
            return Err(syn::Error::new_spanned(
                field,
                "a table's fields have names",
            ));
        };
        let mut read = Self {
            name,
            of: field.ty.clone(),
            inner: inside_option(&field.ty),
            docs: Vec::new(),
            limit: None,
            unit: None,
            missing: None,
            plain: None,
            merge: None,
            ask: None,
        };
        for attribute in &field.attrs {
            let path = attribute.path();
            if path.is_ident("doc") {
                read.docs.push(attribute.clone());
            } else if path.is_ident("limit") {
                read.limit = Some(attribute.parse_args()?);
            } else if path.is_ident("unit") {
                read.unit = Some(attribute.parse_args()?);
            } else if path.is_ident("missing") {
                read.missing = Some(attribute.parse_args()?);
            } else if path.is_ident("plain") {
                read.plain = Some(match &attribute.meta {
                    Meta::Path(_) => None,
                    _ => Some(attribute.parse_args()?),
                });
            } else if path.is_ident("merge") {
                read.merge = Some(attribute.parse_args()?);
            } else if path.is_ident("ask") {
                read.ask = Some(attribute.parse_args()?);
            } else {
                return Err(syn::Error::new_spanned(
                    attribute,
                    "not an attribute of a table",
                ));
            }
        }
        Ok(read)
    }

    /// Whether an entry must have it.
    pub fn is_required(&self) -> bool {
        self.inner.is_none() && self.missing.is_none()
    }

    /// Whether it holds a week, which files write in a form of their own.
    pub fn is_week(&self) -> bool {
        self.inner
            .as_ref()
            .is_some_and(|of| last_word(of) == "IsoWeek")
    }

    /// Its documentation as one text.
    pub fn doc(&self) -> String {
        text_of(&self.docs)
    }

    /// A reference to its limit.
    pub fn limit(&self) -> TokenStream {
        match &self.limit {
            Some(limit) => quote! { &#limit },
            None => quote! { &() },
        }
    }
}

/// Documentation as one text.
pub fn text_of(docs: &[Attribute]) -> String {
    let line = |doc: &Attribute| match &doc.meta {
        Meta::NameValue(pair) => match &pair.value {
            Expr::Lit(ExprLit {
                lit: Lit::Str(text),
                ..
            }) => Some(text.value().trim().to_owned()),
            _ => None,
        },
        _ => None,
    };
    docs.iter().filter_map(line).collect::<Vec<_>>().join(" ")
}

fn inside_option(of: &Type) -> Option<Type> {
    let Type::Path(path) = of else { return None };
    let last = path.path.segments.last()?;
    let PathArguments::AngleBracketed(arguments) = &last.arguments else {
        return None;
    };
    match arguments.args.first() {
        Some(GenericArgument::Type(inner)) if last.ident == "Option" => Some(inner.clone()),
        _ => None,
    }
}

/// The last word of a type's path.
pub fn last_word(of: &Type) -> String {
    match of {
        Type::Path(path) => path
            .path
            .segments
            .last()
            .map_or_else(String::new, |segment| segment.ident.to_string()),
        _ => String::new(),
    }
}
