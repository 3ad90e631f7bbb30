//! What stands in the attribute itself.

use syn::parse::{Parse, ParseStream};
use syn::punctuated::Punctuated;
use syn::{Ident, LitStr, Token, Type, parenthesized};

/// The attribute's arguments.
pub struct Top {
    /// The name in files: of a kind, or of a part.
    pub name: LitStr,
    /// Whether it is an object inside an entry and no kind of its own.
    pub is_part: bool,
    /// The state type to write.
    pub state: Option<Ident>,
    /// Fields of the state that no entry sets.
    pub also: Vec<Also>,
    /// Exactly one of these fields is there.
    pub one_of: Vec<Ident>,
}

/// A field of the state that no entry sets.
pub struct Also {
    /// Its name.
    pub name: Ident,
    /// Its type, which has a default.
    pub of: Type,
    /// Its documentation.
    pub doc: LitStr,
}

impl Parse for Also {
    fn parse(input: ParseStream<'_>) -> syn::Result<Self> {
        let name = input.parse()?;
        input.parse::<Token![:]>()?;
        let of = input.parse()?;
        input.parse::<Token![,]>()?;
        Ok(Self {
            name,
            of,
            doc: input.parse()?,
        })
    }
}

impl Parse for Top {
    fn parse(input: ParseStream<'_>) -> syn::Result<Self> {
        let first: Ident = input.parse()?;
        input.parse::<Token![=]>()?;
        let mut top = Self {
            name: input.parse()?,
            is_part: first == "part",
            state: None,
            also: Vec::new(),
            one_of: Vec::new(),
        };
        if !top.is_part && first != "kind" {
            return Err(syn::Error::new(
                first.span(),
                "`kind` or `part` comes first",
            ));
        }
        while input.parse::<Option<Token![,]>>()?.is_some() && !input.is_empty() {
            let word: Ident = input.parse()?;
            if word == "state" {
                input.parse::<Token![=]>()?;
                top.state = Some(input.parse()?);
            } else if word == "also" {
                let inner;
                parenthesized!(inner in input);
                top.also.push(inner.parse()?);
            } else if word == "one_of" {
                let inner;
                parenthesized!(inner in input);
                let names = Punctuated::<Ident, Token![,]>::parse_terminated(&inner)?;
                top.one_of = names.into_iter().collect();
            } else {
                return Err(syn::Error::new(word.span(), "`state`, `also` or `one_of`"));
            }
        }
        Ok(top)
    }
}
