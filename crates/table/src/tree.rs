//! The columns of a table by the fields that they fill.

/// The columns of a table as a tree: `composition.ca_mmol_l` is below `composition`.
#[derive(Debug, Default, PartialEq)]
pub struct Tree(pub(crate) Vec<(String, Node)>);

#[derive(Debug, PartialEq)]
pub(crate) enum Node {
    Cell(usize),
    Branch(Tree),
}

/// Two columns where one would be a field of the other's text.
#[derive(Debug, PartialEq)]
pub struct Clash(
    /// The name of the second.
    pub String,
);

impl Tree {
    /// How many fields are filled.
    #[must_use]
    pub const fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether no field is filled.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Whether a field is filled from the column of this index.
    #[must_use]
    pub fn reads(&self, index: usize) -> bool {
        self.0.iter().any(|(_, node)| match node {
            Node::Cell(i) => *i == index,
            Node::Branch(tree) => tree.reads(index),
        })
    }

    /// Whether a field of this name is filled, as a whole or in part.
    #[must_use]
    pub fn has(&self, name: &str) -> bool {
        self.0.iter().any(|(field, _)| field == name)
    }

    /// The column of a field that is not nested.
    #[must_use]
    pub fn column(&self, name: &str) -> Option<usize> {
        self.0.iter().find_map(|(n, node)| match node {
            Node::Cell(index) if n == name => Some(*index),
            _ => None,
        })
    }

    /// Adds the column of this index.
    ///
    /// # Errors
    /// [`Clash`] where one of the two columns would be a part of the other, or both the same.
    ///
    /// ```
    /// use guardcell_table::Tree;
    /// let mut tree = Tree::default();
    /// tree.add("water.name", 0)?;
    /// assert!(tree.add("water", 1).is_err());
    /// # Ok::<(), guardcell_table::Clash>(())
    /// ```
    pub fn add(&mut self, name: &str, index: usize) -> Result<(), Clash> {
        let clash = || Clash(name.to_owned());
        let (first, rest) = match name.split_once('.') {
            Some((first, rest)) => (first, Some(rest)),
            None => (name, None),
        };
        let found = self.0.iter_mut().find(|(n, _)| n == first).map(|(_, node)| node);
        match (found, rest) {
            (None, None) => self.0.push((first.to_owned(), Node::Cell(index))),
            (None, Some(rest)) => {
                let mut tree = Self::default();
                tree.add(rest, index).map_err(|_| clash())?;
                self.0.push((first.to_owned(), Node::Branch(tree)));
            }
            (Some(Node::Branch(tree)), Some(rest)) => {
                tree.add(rest, index).map_err(|_| clash())?;
            }
            (Some(_), _) => return Err(clash()),
        }
        Ok(())
    }
}
