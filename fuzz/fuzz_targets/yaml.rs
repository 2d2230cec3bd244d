//! Any text is a tree or one mistake; every place stands in the text; a second reader reads the same words.
#![no_main]

use lampwright::source::{Kind, Node, Sink, parse};
use lampwright_fuzz::{stands_in, told, tree_stands_in};
use serde_yaml::Value;

libfuzzer_sys::fuzz_target!(|text: &str| {
    let mut sink = Sink::new();
    match parse("text.yaml", text, &mut sink) {
        None => {
            assert_eq!(sink.count(), 1);
            told(&sink.finish::<()>(None).expect_err("told"), stands_in);
        }
        Some(node) => {
            assert_eq!(sink.count(), 0);
            tree_stands_in(text, &node);
            // The other reader follows YAML 1.1 in what these begin and where a line ends.
            let plain = |c: char| matches!(c, '\n' | ' '..='~') && !"?&*!%@`|>".contains(c);
            if text.chars().all(plain)
                && let Ok(value) = serde_yaml::from_str::<Value>(text)
            {
                same(&node, &value);
            }
        }
    }
});

/// Keys, words and shapes are the same. What a word without quotes means is no part of it: the two have other numbers.
fn same(ours: &Node, theirs: &Value) {
    match (ours, theirs) {
        // Tags are told by ours, but for the one of words.
        (_, Value::Tagged(_)) => {}
        (Node::Scalar { text, .. }, Value::String(word)) => assert_eq!(text, word),
        (Node::Scalar { text, kind, .. }, Value::Number(number)) => {
            assert_eq!(*kind, Kind::Number, "{text}");
            if let (Ok(ours), Some(theirs)) = (text.parse::<f64>(), number.as_f64()) {
                assert!(ours == theirs || ours.is_nan() && theirs.is_nan(), "{ours} {theirs}");
            }
        }
        (Node::Scalar { kind: Kind::Truth, .. }, Value::Bool(_)) => {}
        (Node::Scalar { kind: Kind::Null, .. }, Value::Null) => {}
        (Node::List { items, .. }, Value::Sequence(list)) => {
            assert_eq!(items.len(), list.len());
            items.iter().zip(list).for_each(|(ours, theirs)| same(ours, theirs));
        }
        (Node::Map { entries, .. }, Value::Mapping(map)) => {
            assert_eq!(entries.len(), map.len());
            for ((key, _, ours), (word, theirs)) in entries.iter().zip(map) {
                if let Value::String(word) = word {
                    assert_eq!(key, word);
                }
                same(ours, theirs);
            }
        }
        _ => panic!("{ours:?} is {theirs:?} to the other"),
    }
}
